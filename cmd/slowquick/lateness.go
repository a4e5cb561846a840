package main

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"text/tabwriter"
	"time"

	"dance.example/slowquick/audio/device"
)

// lateness is how late a device is heard, as it is kept.
type lateness struct {
	Seconds float64 `json:"seconds"` // negative if it is early
	Called  string  `json:"called,omitempty"`
}

// UnmarshalJSON also takes a mere number of seconds, as it stands in files that
// were written before devices were told apart.
func (l *lateness) UnmarshalJSON(text []byte) error {
	if json.Unmarshal(text, &l.Seconds) == nil {
		return nil
	}
	type fields lateness
	return json.Unmarshal(text, (*fields)(l))
}

// duration is how late it is, within a second, as there is no telling what a
// file holds.
func (l lateness) duration() time.Duration {
	return time.Duration(min(max(l.Seconds, -1), 1) * float64(time.Second))
}

func (l lateness) String() string {
	ms := l.duration().Milliseconds()
	if ms < 0 {
		return fmt.Sprintf("%d ms early", -ms)
	}
	return fmt.Sprintf("%d ms late", ms)
}

// keptLateness is how late devices are, by their keys: the kind of output, a
// slash and the device's name, or just the kind, for all others of it.
func keptLateness() (map[string]lateness, error) { return readAll[lateness]("lateness") }

// keyOf is the key of what plays.
func keyOf(s device.Status) string {
	if s.Device.Name == "" {
		return s.Output
	}
	return s.Output + "/" + s.Device.Name
}

// calledOf is what people call the device that plays.
func calledOf(s device.Status) string {
	if s.Device.Called == "" && s.Device.Name != "" {
		return s.Device.Name + " (" + s.Output + ")"
	}
	return cmp.Or(s.Device.Called, s.Output)
}

// latenessOf gives how late what plays is, as it was kept for that device, or
// else for its kind of output.
func latenessOf(kept map[string]lateness) func(device.Status) time.Duration {
	type place struct{ output, device string }
	late := make(map[place]time.Duration, len(kept))
	for key, l := range kept {
		output, name, _ := strings.Cut(key, "/")
		late[place{output, name}] = l.duration()
	}
	return func(s device.Status) time.Duration {
		if l, ok := late[place{s.Output, s.Device.Name}]; ok {
			return l
		}
		return late[place{s.Output, ""}]
	}
}

// printLateness lists what is kept.
func printLateness(w io.Writer, kept map[string]lateness) error {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "OUTPUT\tSOUND\tCALLED")
	for _, key := range slices.Sorted(maps.Keys(kept)) {
		called := kept[key].Called
		if output, _, device := strings.Cut(key, "/"); !device {
			called = "any other device of " + output
		}
		fmt.Fprintf(table, "%s\t%s\t%s\n", harmless(key), kept[key], harmless(called))
	}
	return table.Flush()
}

// keysCalled are the keys under which something is kept that is listed by a name.
func keysCalled(kept map[string]lateness, name string) (keys []string) {
	for key, l := range kept {
		if harmless(key) == name {
			return []string{key}
		}
		if name != "" && harmless(l.Called) == name {
			keys = append(keys, key)
		}
	}
	slices.Sort(keys)
	return keys
}
