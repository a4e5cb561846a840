//go:build music

package music_test

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio/music"
)

// piece is music with known beats.
type piece struct {
	id      string
	metre   int
	bpm     float64
	tempi   music.Range
	seconds []float64
	numbers []int
}

func pieces(t *testing.T, folder string) (all []piece) {
	f, err := os.Open(filepath.Join(folder, "pieces.tsv"))
	require.NoError(t, err)
	defer f.Close()
	for s := bufio.NewScanner(f); s.Scan(); {
		w := strings.Split(s.Text(), "\t")
		p := piece{id: w[0]}
		p.metre, _ = strconv.Atoi(w[1])
		p.bpm, _ = strconv.ParseFloat(w[2], 64)
		p.tempi.Min, _ = strconv.ParseFloat(w[3], 64)
		p.tempi.Max, _ = strconv.ParseFloat(w[4], 64)
		b, err := os.ReadFile(filepath.Join(folder, p.id+".beats"))
		require.NoError(t, err)
		for line := range strings.Lines(string(b)) {
			var sec float64
			var n int
			fmt.Sscan(line, &sec, &n)
			p.seconds, p.numbers = append(p.seconds, sec), append(p.numbers, n)
		}
		all = append(all, p)
	}
	return all
}

func TestCorpusScratch(t *testing.T) {
	folder := os.Getenv("MUSIC")
	sum, n := 0.0, 0
	for _, p := range pieces(t, folder) {
		s, err := music.ReadFile(context.Background(), filepath.Join(folder, p.id+".wav"), music.Options{})
		require.NoError(t, err)
		g := music.Listen(s).Find(p.tempi, p.metre)
		f := fMeasure(p.seconds, g.Seconds())
		bias := 0.0
		m := pairs(p.seconds, g.Seconds())
		for _, x := range m {
			bias += g.Seconds()[x[1]] - p.seconds[x[0]]
		}
		fmt.Printf("%-14s bpm %6.1f found %6.2f F %.3f bar %-5v strength %.2f phase %.2f bar %.2f steady %.0f-%.0f bias %.1f\n", p.id, p.bpm, g.Tempo, f, barRight(p.seconds, p.numbers, g), g.Strength, g.Phase, g.Bar,
			float64(g.SteadyFrom)/float64(g.Rate), float64(g.SteadyTo)/float64(g.Rate), 1000*bias/float64(len(m)))
		sum += f
		n++
	}
	fmt.Println("mean", sum/float64(n))
}
