package main

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// levelNames are the layers by the names under which their levels are kept.
var levelNames = map[string]audio.Layer{
	"voice": player.VoiceLayer, "clicks": player.ClickLayer, "rhythm": player.RhythmLayer,
	"leader": player.LeaderLayer, "follower": player.FollowerLayer,
}

// levelsFile is where levels are kept from one time to the next; "" where there
// is no place for settings.
func levelsFile() string {
	dir, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "slowquick", "levels.json")
}

// keptLevels are the levels of the last time, from 0 to 1, or else the usual
// ones. The steps of who is not shown are silent.
func keptLevels(shown [2]bool) (audio.Levels, error) {
	levels := player.DefaultLevels([2]bool{true, true})
	kept, err := readLevels(levelsFile())
	for name, level := range kept {
		if layer, ok := levelNames[name]; ok {
			levels[layer] = min(max(level, 0), 1)
		}
	}
	for p, layer := range player.StepLayers {
		if !shown[p] {
			levels[layer] = 0
		}
	}
	return levels, err
}

func readLevels(path string) (map[string]float32, error) {
	if path == "" {
		return nil, nil
	}
	text, err := os.ReadFile(path)
	if os.IsNotExist(err) {
		return nil, nil
	}
	kept := map[string]float32{}
	if err == nil {
		err = json.Unmarshal(text, &kept)
	}
	if err != nil {
		return nil, fmt.Errorf("read the levels of the last time: %w", err)
	}
	return kept, nil
}

// keepLevels keeps levels for the next time, those of steps that were shown.
func keepLevels(l audio.Levels, shown [2]bool) error {
	path := levelsFile()
	if path == "" {
		return nil
	}
	kept, _ := readLevels(path) // what can't be read is written anew
	if kept == nil {
		kept = map[string]float32{}
	}
	for name, layer := range levelNames {
		if layer == player.StepLayers[routine.Leader] && !shown[routine.Leader] || layer == player.StepLayers[routine.Follower] && !shown[routine.Follower] {
			continue
		}
		kept[name] = l[layer]
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return fmt.Errorf("keep the levels: %w", err)
	}
	err := writeWhole(path, func(w io.Writer) error {
		out := json.NewEncoder(w)
		out.SetIndent("", "  ")
		return out.Encode(kept)
	})
	if err != nil {
		return fmt.Errorf("keep the levels: %w", err)
	}
	return nil
}
