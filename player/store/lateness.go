package store

import (
	"cmp"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"dance.example/slowquick/audio/device"
)

// Lateness is how late a device is heard.
type Lateness struct {
	Seconds float64 `json:"seconds"` // negative if it is early
	Called  string  `json:"called,omitempty"`
}

// UnmarshalJSON also accepts a bare number of seconds, as in files written before devices
// were told apart.
func (l *Lateness) UnmarshalJSON(text []byte) error {
	if json.Unmarshal(text, &l.Seconds) == nil {
		return nil
	}
	type fields Lateness
	return json.Unmarshal(text, (*fields)(l))
}

// Duration returns the lateness, limited to a second either way, as a file may say anything.
func (l Lateness) Duration() time.Duration {
	return time.Duration(min(max(l.Seconds, -1), 1) * float64(time.Second))
}

func (l Lateness) String() string {
	ms := l.Duration().Milliseconds()
	if ms < 0 {
		return fmt.Sprintf("%d ms early", -ms)
	}
	return fmt.Sprintf("%d ms late", ms)
}

// Latenesses returns how late devices are, by their keys: the kind of output, a slash and the
// device's name, or just the kind for all its other devices.
func Latenesses() (map[string]Lateness, error) { return Read[Lateness]("lateness") }

// KeepLateness keeps how late the device of a key is.
func KeepLateness(key string, l Lateness) error {
	return Keep("lateness", map[string]Lateness{key: l})
}

// ForgetLateness forgets how late the device of a key is.
func ForgetLateness(key string) error {
	return Rewrite("lateness", func(all map[string]Lateness) { delete(all, key) })
}

// LatenessKey returns the key of the device that plays.
func LatenessKey(s device.Status) string {
	if s.Device.Name == "" {
		return s.Output
	}
	return s.Output + "/" + s.Device.Name
}

// CalledOf returns what people call the device that plays.
func CalledOf(s device.Status) string {
	if s.Device.Called == "" && s.Device.Name != "" {
		return s.Device.Name + " (" + s.Output + ")"
	}
	return cmp.Or(s.Device.Called, s.Output)
}

// LatenessOf returns a function that says how late the device that plays is: what is kept for
// that device, else for its kind of output, else 0. It doesn't allocate.
func LatenessOf(kept map[string]Lateness) func(device.Status) time.Duration {
	type place struct{ output, device string }
	late := make(map[place]time.Duration, len(kept))
	for key, l := range kept {
		output, name, _ := strings.Cut(key, "/")
		late[place{output, name}] = l.Duration()
	}
	return func(s device.Status) time.Duration {
		if l, ok := late[place{s.Output, s.Device.Name}]; ok {
			return l
		}
		return late[place{s.Output, ""}]
	}
}
