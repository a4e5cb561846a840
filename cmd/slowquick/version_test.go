package main

import (
	"encoding/json"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestVersionCountsTheLibrary(t *testing.T) {
	list, _ := told(t, exitOK, "figures", "--json")
	var figures []struct{ Dance string }
	require.NoError(t, json.Unmarshal([]byte(list), &figures))
	dances := map[string]bool{}
	for _, f := range figures {
		dances[f.Dance] = true
	}
	said, _ := told(t, exitOK, "--version")
	assert.Regexp(t, `^Slowquick \S.*, built with go1\.`, said)
	assert.Contains(t, said, fmt.Sprintf("\n%d figures of %d dances in the library\n", len(figures), len(dances)))
}
