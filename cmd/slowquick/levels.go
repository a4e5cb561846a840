package main

import (
	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
)

// levelNames are the layers by the names under which their levels are kept.
var levelNames = map[string]audio.Layer{
	"voice": player.VoiceLayer, "clicks": player.ClickLayer, "rhythm": player.RhythmLayer,
	"song": player.MusicLayer, "leader": player.LeaderLayer, "follower": player.FollowerLayer,
}

// keptLevels are the levels of the last time, from 0 to 1, or else the usual
// ones. The steps of who is not shown are silent.
func keptLevels(shown [2]bool) (audio.Levels, error) {
	levels := player.DefaultLevels([2]bool{true, true})
	kept, err := readKept("levels")
	for name, layer := range levelNames {
		if level, ok := kept[name]; ok {
			levels[layer] = float32(min(max(level, 0), 1))
		}
	}
	for p, layer := range player.StepLayers {
		if !shown[p] {
			levels[layer] = 0
		}
	}
	return levels, err
}

// keepLevels keeps the levels that have changed for the next time, of steps only if they
// were shown.
func keepLevels(before, l audio.Levels, shown [2]bool) error {
	levels := map[string]float64{}
	for name, layer := range levelNames {
		if l[layer] != before[layer] { // another program may have changed the others
			levels[name] = float64(l[layer])
		}
	}
	if !shown[0] {
		delete(levels, "leader")
	}
	if !shown[1] {
		delete(levels, "follower")
	}
	return keep("levels", levels)
}
