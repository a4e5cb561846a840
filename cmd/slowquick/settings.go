package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/cmd/slowquick/report"
	"dance.example/slowquick/cmd/slowquick/settings"
)

// settingsName is the command that also works while the file has mistakes, to mend them.
const settingsName = "settings"

func (a *app) settings() *cobra.Command {
	forget, asJSON := "", false
	cmd := &cobra.Command{
		Use:   settingsName + " [NAME [VALUE]]",
		Short: "Show and change what is set once",
		Long: `Settings lists what you need to set only once: what it is, and where that comes
from. With a name it tells what that can be; with a name and a value it sets it.

` + settingsPage(),
		Example:           "  slowquick settings\n  slowquick settings paper letter\n  slowquick settings tempo '70 %'\n  slowquick settings --forget tempo",
		ValidArgsFunction: completeSettings,
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case cmd.Flags().Changed("forget") && len(args) > 0:
				return outcome.Usage(errors.New("--forget takes one setting back; leave all else out"))
			case cmd.Flags().Changed("forget"):
				return a.changeSetting(forget, "")
			case len(args) > 1:
				return a.changeSetting(args[0], strings.Join(args[1:], " "))
			}
			return a.tellSettings(args, asJSON)
		},
	}
	cmd.Flags().StringVar(&forget, "forget", "", "take the setting of this `NAME` back")
	a.printsJSON(cmd, &asJSON)
	_ = cmd.RegisterFlagCompletionFunc("forget", completeSettings) // fails only for a flag that does not exist
	return cmd
}

// settingsPage tells all settings, and where they are kept.
func settingsPage() string {
	var page strings.Builder
	for _, s := range settings.All() {
		fmt.Fprintf(&page, "    %-14s  %s:\n%18s  %s\n", s.Name, s.Meaning, "", s.Takes)
	}
	return page.String() + `
They are kept in slowquick/settings.txt of your folder for settings (~/.config
on Linux), which you may write yourself: on each line a name, a colon and a
value; # begins a remark. You never need that file. The mixer's levels, figures
named aloud and --pause-after are kept there, too.

A variable of the environment goes before the file: SLOWQUICK_PAPER=letter, or
SLOWQUICK_LEAD_IN=2. A flag goes before both. The paper is that of LC_PAPER, or
of LC_ALL or LANG, unless you set it. paper and library hold for all commands,
the others only while you dance: what is written is as its flags say.`
}

// completeSettings completes the name of a setting, then one of its words.
func completeSettings(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return settings.Names(), cobra.ShellCompDirectiveNoFileComp
	}
	s, ok := settings.Named(args[0])
	if ok && s.Folder() {
		return nil, cobra.ShellCompDirectiveFilterDirs
	}
	return s.Words(), cobra.ShellCompDirectiveNoFileComp
}

// named returns the setting that an argument names.
func named(name string) (settings.Setting, error) {
	s, ok := settings.Named(name)
	if !ok {
		return s, outcome.New(exitUsage, fmt.Errorf("no setting is called %q", name), outcome.Perhaps(name, settings.Names(), "slowquick settings lists all of them"))
	}
	return s, nil
}

// tellSettings lists all settings, or tells one.
func (a *app) tellSettings(names []string, asJSON bool) error {
	all := settings.All()
	if len(names) > 0 {
		s, err := named(names[0])
		if err != nil {
			return err
		}
		all = []settings.Setting{s}
	}
	if asJSON {
		if err := a.PrintJSON(report.SettingsAsJSON(all, a.set)); err != nil {
			return err
		}
	} else {
		report.Settings(a.Page(a.Out), all, a.set)
	}
	return a.judgeSettings()
}

// changeSetting sets a setting, or takes it back if the value is empty, and tells what it is by now.
func (a *app) changeSetting(name, value string) error {
	s, err := named(name)
	if err != nil {
		return err
	}
	if value != "" {
		if s.Folder() && !strings.HasPrefix(value, "~") {
			if value, err = filepath.Abs(value); err != nil {
				return outcome.Failed(fmt.Errorf("%s: %w", s.Name, err), "")
			}
		}
		if value, err = s.Read(value); err != nil {
			return outcome.Usage(fmt.Errorf("%s: %w", s.Name, err))
		}
	}
	if err := settings.Keep(map[string]string{s.Name: value}); err != nil {
		return outcome.Failed(err, "nothing was changed")
	}
	if a.set, err = settings.Read(); err != nil {
		return outcome.Failed(err, "")
	}
	return a.tellSettings([]string{s.Name}, false)
}

// readSettings reads the settings, and has those that concern a command stand in for the flags that weren't
// given. What is wrong with them ends the command, unless it works all the same.
func (a *app) readSettings(cmd *cobra.Command, works bool) error {
	var err error
	a.set, err = settings.Read()
	a.Warn(err)
	if !works {
		if err := a.judgeSettings(); err != nil {
			return err
		}
	}
	a.standIn(cmd)
	return nil
}

// judgeSettings prints what is wrong in the file of settings. The error is of that, or of the environment.
func (a *app) judgeSettings() error {
	if a.set.Wrong != nil {
		return outcome.New(exitUsage, a.set.Wrong, "slowquick help settings tells the names of all variables")
	}
	if len(a.set.Findings) > 0 {
		report.Findings(a.Page(a.Err), a.set.Document, a.set.Findings)
		return outcome.WithFindings()
	}
	return nil
}

// standIn has settings stand in for the flags of a command that weren't given.
func (a *app) standIn(cmd *cobra.Command) {
	for _, s := range settings.All() {
		flag, value := cmd.Flags().Lookup(s.Name), a.set.Of(s.Name).Text
		if flag == nil || flags.Given(cmd, s.Name) || value == "" || !s.Everywhere && !flags.Dances(cmd) {
			continue
		}
		if flag.Value.Type() == "bool" {
			value = strconv.FormatBool(a.set.Is(s.Name, settings.YesOrNo(true)))
		}
		if err := flag.Value.Set(value); err != nil {
			panic(fmt.Sprintf("setting %s: %v", s.Name, err)) // settings take what flags take
		}
	}
}

// usual returns how one dances without any flag.
func (a *app) usual() flags.Dance {
	var how flags.Dance
	cmd := &cobra.Command{}
	how.Flags(cmd)
	how.LiveFlags(cmd)
	a.standIn(cmd)
	return how
}

// inSession returns how one dances in a session, which has few flags and sets the tempo itself.
func (a *app) inSession(given flags.Dance) flags.Dance {
	how := a.usual()
	how.Tempo, how.Dancers, how.PauseAfter = "", given.Dancers, given.PauseAfter
	return how
}
