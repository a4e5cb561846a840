package store

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"time"

	"dance.example/slowquick/audio/device"
)

// Lateness is how late a device is heard.
type Lateness struct {
	Seconds float64 `json:"seconds"` // negative if it is early
	Called  string  `json:"called,omitempty"`
	Unsure  float64 `json:"unsure,omitempty"` // by how many seconds that may be wrong; 0 if it isn't known
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
		return fmt.Sprintf("%d ms early%s", -ms, l.giveOrTake())
	}
	return fmt.Sprintf("%d ms late%s", ms, l.giveOrTake())
}

// giveOrTake says how sure it is, if that is known.
func (l Lateness) giveOrTake() string {
	if l.Unsure <= 0 {
		return ""
	}
	return fmt.Sprintf(" ± %.0f", min(l.Unsure, 1)*1000)
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

// By how much it may be wrong when something is heard, in seconds.
const (
	// reported is for an output whose delay the sound system tells, which for a wire is nearly all of it:
	// from memory.
	reported = 0.015
	// wireless is for Bluetooth whose delay was not measured: headphones and loudspeakers keep 100 to
	// 300 ms of sound, of which the sound system may know little: from memory.
	wireless = 0.250
	// untold is for an output that tells no delay, or one of another part of the system: from memory.
	untold = 0.060
	// keptBefore is for a delay that was measured when it wasn't kept how surely: eight to sixteen taps
	// each that half are within 20 ms of.
	keptBefore = 0.030
	// behind is how late the screen may itself be, against which a delay is measured: terminals and
	// displays mostly take 10 to 40 ms: from memory.
	behind = 0.040
)

// UnsureOf returns by how much it may be wrong when the device that plays is heard, with what is kept of
// it.
func UnsureOf(kept map[string]Lateness, s device.Status) time.Duration {
	l, ok := kept[LatenessKey(s)]
	if !ok {
		l, ok = kept[s.Output]
	}
	unsure := reported
	switch {
	case ok:
		unsure = math.Hypot(cmp.Or(min(max(l.Unsure, 0), 1), keptBefore), behind)
	case strings.HasPrefix(s.Device.Name, "bluez"):
		unsure = wireless
	case s.Output != "PulseAudio":
		unsure = untold
	}
	return time.Duration(unsure * float64(time.Second))
}
