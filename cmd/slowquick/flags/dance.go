package flags

import (
	"fmt"
	"strconv"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen/terminal"
	"dance.example/slowquick/player/screen/view"
	"dance.example/slowquick/routine"
	"github.com/spf13/cobra"
)

// Dance holds the flags that say how to dance a routine.
type Dance struct {
	Tempo   string
	LeadIn  *int            // nil for the sheet's own
	Dancers routine.Dancers // whose steps are shown
	Count   player.Counting
	Repeat  bool
	Figures string
	Ladder  string
	Rest    int
	Voice   string // a folder
	Call    bool   // figures are named aloud

	PauseAfter float64 // minutes
	Music      string  // the file of a song; "" for the sheet's own
	Pictures   terminal.Setting
	View       view.Kind // that is shown first
}

// Flags adds the flags that apply to dancing and to handouts.
func (h *Dance) Flags(cmd *cobra.Command) {
	cmd.Flags().StringVar(&h.Tempo, "tempo", "100 %", "the `TEMPO`: \"24 bars/min\", \"96 beats/min\", or \"80 %\" of the tempo of the sheet or its song")
	cmd.Flags().Func("lead-in", "count in for this many `BARS`, 0–4; if not given, for as many as the sheet says, or 1", func(text string) error {
		n, err := strconv.Atoi(text)
		h.LeadIn = &n
		return err
	})
	cmd.Flags().IntVar(&h.Rest, "rest", 0, "rest for this many counted `BARS` between run-throughs, 0–4")
	cmd.Flags().StringVar(&h.Ladder, "gradually", "", "speed up step by step, the `LADDER`: \"70 to 100 % by 5, 2 run-throughs\" at each tempo")
	Partner(cmd, &h.Dancers)
	Count(cmd, &h.Count)
}

// The usages of flags that several commands have.
const (
	VoiceUsage = "a `FOLDER` of your own recordings of counts (one.wav, and.ogg …) and of figures' names (spot turn.wav)"
	callUsage  = "say each figure's name before it begins, with your recordings (--voice) or a speech program"
)

// MusicFlag adds --music.
func (h *Dance) MusicFlag(cmd *cobra.Command) {
	cmd.Flags().StringVar(&h.Music, "music", "", "dance to this `SONG` instead of the sheet's; none for clicks only")
}

// LiveFlags adds the flags that apply to dancing but not to handouts.
func (h *Dance) LiveFlags(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&h.Repeat, "repeat", false, "repeat the routine until you stop")
	cmd.Flags().StringVar(&h.Figures, "figures", "", "repeat only these `FIGURES` of the order: 2 or 2-3")
	cmd.Flags().StringVar(&h.Voice, "voice", "", VoiceUsage)
	cmd.Flags().BoolVar(&h.Call, "call", false, callUsage)
	h.PauseFlag(cmd)
	Word(cmd, &h.View, "show", "what to `SHOW` first: steps or plan", view.Firsts[:])
	Word(cmd, &h.Pictures, "pictures", "draw the plan of the floor in `PICTURES`: auto, blocks, dots, sixel or kitty", terminal.Settings)
}

// UsualPause is the minutes of dancing after which a pause is suggested unless another number
// was chosen (our own choice), and LongestPause the most that can be chosen.
const UsualPause, LongestPause = 20.0, 240.0

// PauseFlag adds --pause-after.
func (h *Dance) PauseFlag(cmd *cobra.Command) {
	WhileDancing(cmd)
	cmd.Flags().Float64Var(&h.PauseAfter, "pause-after", UsualPause, "suggest a break after this many `MINUTES` of dancing, 0 for never; this is remembered")
}

// dances is the annotation of commands with which one dances.
const dances = "dances"

// WhileDancing says that one dances with a command, so that all settings hold for its flags.
func WhileDancing(cmd *cobra.Command) { cmd.Annotations = map[string]string{dances: "yes"} }

// Dances reports whether one dances with a command.
func Dances(cmd *cobra.Command) bool { return cmd.Annotations[dances] != "" }

// Settings returns how to dance a timeline. For a nil timeline, of a sheet that can't be danced yet,
// it returns what doesn't depend on one. The error is about the first wrong flag; the others hold.
func (h *Dance) Settings(timeline *player.Timeline) (player.Settings, error) {
	set := player.DefaultSettings()
	if timeline != nil {
		set = timeline.Settings()
	}
	var wrong error
	refuse := func(f *outcome.Failure) {
		if wrong == nil {
			wrong = f
		}
	}
	if h.Tempo != "" && timeline != nil {
		if percent, tempo, err := timeline.ParseTempo(h.Tempo, timeline.OwnTempo()); err != nil {
			refuse(outcome.New(outcome.UsageCode, fmt.Errorf("--tempo: %w", err), "24 bars/min, 96 beats/min or 80 %"))
		} else {
			set = set.At(percent, tempo)
		}
	}
	bars := func(flag string, n int) int {
		if n < 0 || n > player.MostLeadIn {
			refuse(outcome.Usage(fmt.Errorf("--%s: %d bars; use 0 to %d", flag, n, player.MostLeadIn)))
		}
		return min(max(n, 0), player.MostLeadIn)
	}
	if h.LeadIn != nil {
		set.LeadIn = bars("lead-in", *h.LeadIn)
	}
	set.Rest, set.Call, set.Count = bars("rest", h.Rest), h.Call, h.Count
	if h.Ladder != "" {
		var err error
		if set.Ladder, err = player.ParseLadder(h.Ladder); err != nil {
			refuse(outcome.New(outcome.UsageCode, fmt.Errorf("--gradually: %w", err), "70 to 100 % by 5, 2 run-throughs"))
		}
	}
	if timeline == nil {
		return set, wrong
	}
	if h.Repeat || set.Ladder != (player.Ladder{}) {
		set.Loop = player.Interval{From: timeline.Start, To: timeline.End}
	}
	if h.Figures != "" {
		if loop, err := timeline.ParseItems(h.Figures); err != nil {
			refuse(outcome.Usage(fmt.Errorf("--figures: %w", err)))
		} else {
			set.Loop = loop
		}
	}
	return set, wrong
}
