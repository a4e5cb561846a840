package store

import (
	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
)

// levelKeys are the keys under which the levels of layers are kept.
var levelKeys = map[string]audio.Layer{
	"voice": player.VoiceLayer, "clicks": player.ClickLayer, "rhythm": player.RhythmLayer,
	"song": player.MusicLayer, "leader": player.LeaderLayer, "follower": player.FollowerLayer,
}

// Levels returns the saved levels, from 0 to 1; layers that were never changed
// have their default. The steps of a partner who isn't shown are silent. The levels can be
// used even if there is an error.
func Levels(shown [2]bool) (audio.Levels, error) {
	levels := player.DefaultLevels([2]bool{true, true})
	kept, err := Read[float64]("levels")
	for key, layer := range levelKeys {
		if level, ok := kept[key]; ok {
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

// KeepLevels keeps the levels in which l differs from before, as another program may have
// changed the others. The levels of steps are kept only for partners who were shown. Without
// a folder for settings it does nothing.
func KeepLevels(before, l audio.Levels, shown [2]bool) error {
	if l == before || File("levels") == "" {
		return nil
	}
	levels := map[string]float64{}
	for key, layer := range levelKeys {
		if l[layer] != before[layer] {
			levels[key] = float64(l[layer])
		}
	}
	if !shown[0] {
		delete(levels, "leader")
	}
	if !shown[1] {
		delete(levels, "follower")
	}
	return Keep("levels", levels)
}
