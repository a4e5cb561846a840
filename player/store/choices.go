package store

// Choices are what a dancer chose once and need not choose again.
type Choices struct {
	CautionsSeen bool
	NamesAloud   bool    // figures are called
	PauseAfter   float64 // minutes of dancing until a pause is suggested; 0 for never
}

// UsualPause is the minutes of dancing after which a pause is suggested unless another number
// was chosen (our own choice), and LongestPause the most that can be chosen.
const UsualPause, LongestPause = 20.0, 240.0

// IsPause reports whether minutes can be chosen: at least one, or 0 for never.
func IsPause(minutes float64) bool {
	return minutes == 0 || minutes >= 1 && minutes <= LongestPause
}

// The keys under which choices are kept, as numbers.
const (
	cautionsSeen = "cautions seen"
	namesAloud   = "names aloud"
	pauseAfter   = "pause after"
)

// ReadChoices returns the saved choices. Whatever was not chosen, can't be read or makes no sense
// has its usual value.
func ReadChoices() (Choices, error) {
	kept, err := Read[float64]("choices")
	c := Choices{CautionsSeen: kept[cautionsSeen] != 0, NamesAloud: kept[namesAloud] != 0, PauseAfter: UsualPause}
	if minutes, ok := kept[pauseAfter]; ok && IsPause(minutes) {
		c.PauseAfter = minutes
	}
	return c, err
}

// KeepCautionsSeen keeps that the cautions were seen.
func KeepCautionsSeen() error { return choose(cautionsSeen, 1) }

// KeepNamesAloud keeps whether figures are called.
func KeepNamesAloud(aloud bool) error {
	if aloud {
		return choose(namesAloud, 1)
	}
	return choose(namesAloud, 0)
}

// KeepPauseAfter keeps after how many minutes a pause is suggested.
func KeepPauseAfter(minutes float64) error { return choose(pauseAfter, minutes) }

// choose keeps a choice. Without a folder for settings it does nothing: choices are a
// convenience.
func choose(key string, value float64) error {
	if File("choices") == "" {
		return nil
	}
	return Keep("choices", map[string]float64{key: value})
}
