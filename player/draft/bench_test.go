package draft_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/routine"
)

// long returns a routine of 64 lines.
func long(t testing.TB, dance, name string) draft.Draft {
	d, err := draft.New(shelf(), danceOf(t, dance), "Quay", routine.Room{})
	require.NoError(t, err)
	for range 64 {
		d = changed(t, d, name)
	}
	return d
}

// BenchmarkChange measures what a key of the order costs at 64 figures.
func BenchmarkChange(b *testing.B) {
	d := long(b, "waltz", "Box step")
	for b.Loop() {
		_, err := d.Change(d.Order.Remove(40), 40)
		require.NoError(b, err)
	}
}

// BenchmarkNext measures the look for what can follow, at 64 figures.
func BenchmarkNext(b *testing.B) {
	for _, dance := range [][2]string{{"waltz", "Box step"}, {"rumba", "Closed basic"}} {
		b.Run(dance[0], func(b *testing.B) {
			d := long(b, dance[0], dance[1])
			for b.Loop() {
				require.NotEmpty(b, d.Next(40))
			}
		})
	}
}

// BenchmarkSuggest measures the look for suggestions, of a whole phrase and of what is left after a figure.
func BenchmarkSuggest(b *testing.B) {
	for _, dance := range [][2]string{{"waltz", "Box step"}, {"rumba", "Hockey stick"}, {"quickstep", "Quarter turn to the right"}} {
		b.Run(dance[0], func(b *testing.B) {
			d := long(b, dance[0], dance[1])
			one := d
			for one.Order.Len() > 1 {
				var err error
				one, err = one.Change(one.Order.Remove(0), 0)
				require.NoError(b, err)
			}
			for b.Loop() {
				d.Suggest(63)
				one.Suggest(0)
			}
		})
	}
}

// BenchmarkLinks measures the look for links to every figure of a dance.
func BenchmarkLinks(b *testing.B) {
	for _, dance := range [][2]string{{"waltz", "Box step"}, {"rumba", "Closed basic"}, {"quickstep", "Quarter turn to the right"}} {
		b.Run(dance[0], func(b *testing.B) {
			d := long(b, dance[0], dance[1])
			for b.Loop() {
				for _, n := range d.Next(63) {
					d.LinksTo(63, &n)
				}
			}
		})
	}
}

// BenchmarkNextWithParts measures the look for what can follow, among them parts, at 64 figures.
func BenchmarkNextWithParts(b *testing.B) {
	d := long(b, "rumba", "Closed basic")
	for range 4 {
		text, err := d.Gather(8, 16, d.PartName())
		require.NoError(b, err)
		d, err = d.Change(text, 8)
		require.NoError(b, err)
	}
	for b.Loop() {
		require.NotEmpty(b, d.Next(8))
	}
}

// BenchmarkGather measures what making a part costs, and taking it apart, at 64 figures.
func BenchmarkGather(b *testing.B) {
	d := long(b, "rumba", "Closed basic")
	for b.Loop() {
		text, err := d.Gather(8, 40, "Part A")
		require.NoError(b, err)
		made, err := d.Change(text, 8)
		require.NoError(b, err)
		_, _, err = made.Apart(8)
		require.NoError(b, err)
	}
}
