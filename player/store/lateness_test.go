package store

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio/device"
)

// put writes a kept file as it may be found.
func put(t *testing.T, name, text string) {
	t.Helper()
	path := File(name)
	require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o700))
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
}

func on(output, name string) device.Status {
	return device.Status{Output: output, Device: device.Device{Name: name}, Sounding: true}
}

func TestWhichLatenessIsUsed(t *testing.T) {
	settingsIn(t)
	put(t, "lateness", `{
		"PulseAudio": 0.04,
		"PulseAudio/bluez_output.lounge.1": {"seconds": 0.18, "called": "Living-room speaker (Bluetooth)"},
		"PulseAudio/hdmi": {"seconds": -0.02},
		"aplay/plug/a": 0.01,
		"oto": 1e300
	}`)
	kept, err := Latenesses()
	require.NoError(t, err)
	late := LatenessOf(kept)
	for _, c := range []struct {
		name string
		on   device.Status
		want time.Duration
	}{
		{"its own", on("PulseAudio", "bluez_output.lounge.1"), 180 * time.Millisecond},
		{"its own, early", on("PulseAudio", "hdmi"), -20 * time.Millisecond},
		{"that of its kind", on("PulseAudio", "terrace"), 40 * time.Millisecond},
		{"that of its kind, as it has no name", on("PulseAudio", ""), 40 * time.Millisecond},
		{"a name with a slash", on("aplay", "plug/a"), 10 * time.Millisecond},
		{"another device, and nothing for its kind", on("aplay", "plug"), 0},
		{"far too much", on("oto", "default"), time.Second},
		{"silence", device.Status{Output: "silent"}, 0},
	} {
		assert.Equal(t, c.want, late(c.on), c.name)
	}
	assert.Zero(t, testing.AllocsPerRun(100, func() { late(on("PulseAudio", "terrace")) }))
	assert.Zero(t, LatenessOf(nil)(on("PulseAudio", "terrace")))
}

// TestLatenessIsKeptAndRead, beside what is in the file, even in its old form.
func TestLatenessIsKeptAndRead(t *testing.T) {
	settingsIn(t)
	kept, err := Latenesses()
	require.NoError(t, err)
	assert.Empty(t, kept)
	put(t, "lateness", `{"PulseAudio": 0.04}`)
	speaker := Lateness{Seconds: 0.18, Called: "Living-room speaker \x1b[31m (Bluetooth)"}
	require.NoError(t, KeepLateness(LatenessKey(on("PulseAudio", "bluez_output.lounge.1")), speaker))
	require.NoError(t, KeepLateness(LatenessKey(on("aplay", "")), Lateness{Seconds: 0.01}))
	kept, err = Latenesses()
	require.NoError(t, err)
	assert.Equal(t, map[string]Lateness{
		"PulseAudio": {Seconds: 0.04}, "PulseAudio/bluez_output.lounge.1": speaker, "aplay": {Seconds: 0.01},
	}, kept)
}

// TestADamagedFileIsNamed in the error. Nothing in it is used, and the next write replaces it.
func TestADamagedFileIsNamed(t *testing.T) {
	for name, text := range map[string]string{
		"not JSON": "late", "cut off": `{"PulseAudio": 0.0`, "a word": `{"PulseAudio": "late"}`,
		"a word within": `{"aplay": 0.1, "PulseAudio": {"seconds": "late"}}`, "a list": `[0.1]`,
	} {
		t.Run(name, func(t *testing.T) {
			settingsIn(t)
			put(t, "lateness", text)
			kept, err := Latenesses()
			assert.Empty(t, kept)
			assert.ErrorContains(t, err, "read the saved lateness: "+File("lateness")+": ")
			require.NoError(t, KeepLateness("aplay", Lateness{Seconds: 0.01}))
			kept, err = Latenesses()
			require.NoError(t, err)
			assert.Equal(t, map[string]Lateness{"aplay": {Seconds: 0.01}}, kept)
		})
	}
}

func TestWhatADeviceIsCalled(t *testing.T) {
	s := on("PulseAudio", "bluez_output.lounge.1")
	assert.Equal(t, "bluez_output.lounge.1 (PulseAudio)", CalledOf(s))
	s.Device.Called = "Living-room speaker (Bluetooth)"
	assert.Equal(t, s.Device.Called, CalledOf(s))
	assert.Equal(t, "PulseAudio", CalledOf(on("PulseAudio", "")))
}

// TestHowSureItIsWhenADeviceIsHeard: by what sync found, and without that by what kind of device it is.
func TestHowSureItIsWhenADeviceIsHeard(t *testing.T) {
	settingsIn(t)
	require.NoError(t, KeepLateness("PulseAudio/bluez_output.lounge.1", Lateness{Seconds: 0.18, Unsure: 0.03}))
	require.NoError(t, KeepLateness("PulseAudio/hdmi", Lateness{Seconds: -0.02}))
	kept, err := Latenesses()
	require.NoError(t, err)
	for _, c := range []struct {
		name string
		on   device.Status
		want float64 // ms
	}{
		{"measured: its own error, and the screen's", on("PulseAudio", "bluez_output.lounge.1"), 50},
		{"measured before that was kept", on("PulseAudio", "hdmi"), 50},
		{"by a wire", on("PulseAudio", "alsa_output.terrace"), 15},
		{"wireless", on("PulseAudio", "bluez_output.terrace.1"), 250},
		{"without a delay of its own", on("oto", ""), 60},
	} {
		assert.InDelta(t, c.want, 1000*UnsureOf(kept, c.on).Seconds(), 0.001, c.name)
	}
	assert.Equal(t, time.Second, UnsureOf(map[string]Lateness{"oto": {Unsure: 1e300}}, on("oto", "")).Truncate(time.Second), "a file may say anything")
	assert.Equal(t, "180 ms late ± 30", kept["PulseAudio/bluez_output.lounge.1"].String())
	assert.Equal(t, "20 ms early", kept["PulseAudio/hdmi"].String())
}
