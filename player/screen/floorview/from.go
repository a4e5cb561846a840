package floorview

// From is from where the couple is seen.
type From uint8

// Behind a partner, up in the picture is where that partner faces as the figure begins.
// Opposite, it is the direction at their back, as a class sees a teacher who faces it. In
// the hall, the first line of dance goes to the right.
const (
	BehindLeader From = iota
	BehindFollower
	Opposite
	Hall
)

// Views is the number of values of [From].
const Views = 4

var names = [Views]string{"from behind the leader", "from behind the follower", "from opposite", "in the hall"}

// String returns f as a teacher would say it.
func (f From) String() string { return names[f%Views] }
