package main

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"
)

// usualSpell is after how many minutes of dancing a pause is suggested to who has not
// chosen otherwise (our own choice), and longestSpell the most that can be chosen.
const usualSpell, longestSpell = 20.0, 240.0

// choiceOfPause is the choice under which those minutes are kept.
const choiceOfPause = "pause after"

// wasPausing is after how many minutes a pause was to be suggested the last time.
func wasPausing() float64 {
	kept, _ := readKept("choices") // wasCalling tells what is wrong with it
	if minutes, ok := kept[choiceOfPause]; ok && isSpell(minutes) {
		return minutes
	}
	return usualSpell
}

// isSpell reports whether minutes can be chosen: at least one, or 0 for never.
func isSpell(minutes float64) bool {
	return minutes == 0 || minutes >= 1 && minutes <= longestSpell
}

// choosePause keeps what the flag says, or else takes what was chosen the last time.
func (a *app) choosePause(cmd *cobra.Command, h *howToDance) error {
	if !cmd.Flags().Changed("pause-after") {
		h.pauseAfter = wasPausing()
		return nil
	}
	if !isSpell(h.pauseAfter) {
		return usage(fmt.Errorf("--pause-after: not 0, for never, or 1 to %.0f minutes", longestSpell))
	}
	if keptFile("choices") != "" {
		if err := keep("choices", map[string]float64{choiceOfPause: h.pauseAfter}); err != nil {
			a.warn(err)
		}
	}
	return nil
}

// inMinutes is a length of time of so many minutes.
func inMinutes(n float64) time.Duration { return time.Duration(n * float64(time.Minute)) }
