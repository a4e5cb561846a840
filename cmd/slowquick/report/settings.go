package report

import (
	"cmp"

	"dance.example/slowquick/cmd/slowquick/settings"
	"dance.example/slowquick/player/harmless"
)

// builtIn is where a setting comes from that nobody set.
const builtIn = "built in"

// Settings prints settings with where each comes from; of one alone also what it can be.
func Settings(p Page, all []settings.Setting, now *settings.Values) {
	rows, narrow := [][]string{{"SETTING", "VALUE", "FROM", "WHAT IT IS"}}, [][]string{{"SETTING", "VALUE"}}
	for _, s := range all {
		value := now.Of(s.Name)
		text, from := harmless.Masked(cmp.Or(value.Text, s.Usual)), cmp.Or(value.From, builtIn)
		rows = append(rows, []string{s.Name, text, from, s.Meaning})
		narrow = append(narrow, []string{s.Name, text})
	}
	for _, line := range p.table(rows, []int{1, 3}, narrow, 0) {
		p.line("%s", line)
	}
	if len(all) == 1 {
		p.line("")
		p.line("%s can be %s.", all[0].Name, all[0].Takes)
		return
	}
	if file := settings.File(); file != "" {
		p.line("")
		p.line("The file of settings is %s", harmless.Masked(file))
	}
}

// Setting is a setting as programs read it.
type Setting struct {
	Name    string `json:"name"`
	Value   string `json:"value"`
	From    string `json:"from"`
	Usual   string `json:"usual"`
	Takes   string `json:"takes"`
	Meaning string `json:"meaning"`
}

// SettingsAsJSON returns settings as programs read them.
func SettingsAsJSON(all []settings.Setting, now *settings.Values) (list []Setting) {
	for _, s := range all {
		value := now.Of(s.Name)
		list = append(list, Setting{s.Name, cmp.Or(value.Text, s.Usual), cmp.Or(value.From, builtIn), s.Usual, s.Takes, s.Meaning})
	}
	return list
}
