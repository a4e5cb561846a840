package claps

import "slices"

// What makes a clap. Powers are means of squares.
const (
	hop       = 0.0005 // s between two looks
	attack    = 8      // hops that hold a clap's power
	back      = 60     // hops before it that must be quieter
	rise      = 8.0    // how many times quieter they are
	overNoise = 100.0  // how many times it exceeds the noise of the room
	quietest  = 1e-7   // the least power of a clap: -70 dB of full scale
	overOwn   = 0.5    // the least power, as a fraction of our own sound's just then
	ownPart   = 0.02   // and as a fraction of our own sound's loudest
	alike     = 0.02   // the least power, as a fraction of the median clap's
	apart     = 0.080  // s between two claps: nobody steps faster
	louder    = 4.0    // of two that are closer, how many times louder the second must be to replace the first
	begins    = 0.1    // the fraction of the attack's power at which the clap begins
)

// onsets returns the samples on which claps begin in a recording from which known was taken out.
func onsets(signal, known []float64, rate float64) []float64 {
	size := max(1, int(hop*rate))
	powers, own := powersOf(signal, size), powersOf(known, size)
	if len(powers) < back {
		return nil
	}
	strength := smoothed(powers)
	least := max(quietest, overNoise*quantile(powers, 0.3))
	ownNow := masks(own, len(powers))
	if own != nil {
		least = max(least, ownPart*quantile(own, 0.995))
	}
	type onset struct {
		at       float64
		strength float64
	}
	var all []onset
	for k := 0; k+attack < len(powers); k++ {
		s := strength[k]
		if s < least || s < overOwn*ownNow[k] || s < rise*background(powers, k) {
			continue
		}
		// The clap is the loudest hop just after, and begins where its power does.
		loud := k
		for j := k; j < min(k+2*attack, len(powers)); j++ {
			if powers[j] > powers[loud] {
				loud = j
			}
		}
		begin := k
		for powers[begin] < begins*powers[loud] {
			begin++
		}
		now := onset{float64(begin * size), strength[begin]}
		if n := len(all); n > 0 && now.at-all[n-1].at < apart*rate {
			if now.strength < louder*all[n-1].strength {
				continue
			}
			all = all[:n-1] // that wasn't a clap, but something before it
		}
		all = append(all, now)
	}
	var usual []float64
	for _, o := range all {
		usual = append(usual, o.strength)
	}
	var at []float64
	for _, o := range all {
		if o.strength >= alike*quantile(usual, 0.7) {
			at = append(at, o.at)
		}
	}
	return at
}

// powersOf returns the power of each hop; nil for a nil signal.
func powersOf(signal []float64, size int) []float64 {
	if signal == nil {
		return nil
	}
	out := make([]float64, len(signal)/size)
	for k := range out {
		out[k] = energy(signal[k*size:(k+1)*size]) / float64(size)
	}
	return out
}

// smoothed returns the mean power from each hop on, for as long as an attack.
func smoothed(powers []float64) []float64 {
	out := make([]float64, len(powers))
	for k := range out {
		to := min(k+attack, len(powers))
		for _, p := range powers[k:to] {
			out[k] += p / attack
		}
	}
	return out
}

// background returns the mean power before a hop.
func background(powers []float64, k int) float64 {
	from := max(0, k-back)
	sum := 0.0
	for _, p := range powers[from:k] {
		sum += p
	}
	return sum / float64(max(k-from, 1))
}

// masks returns, for each hop, the power of our own sound near it, some of which the fit may have left.
func masks(own []float64, n int) []float64 {
	out := make([]float64, n)
	const fades = 0.98 // what is left after a hop: it falls by 60 dB in a third of a second
	level := 0.0
	for k := range min(n, len(own)) {
		level = max(level*fades, own[k])
		out[k] = level
	}
	// Our own sound may begin a little before its estimated time.
	for k := range out {
		for j := k + 1; j < min(k+attack, n); j++ {
			out[k] = max(out[k], out[j])
		}
	}
	return out
}

func quantile(list []float64, q float64) float64 {
	if len(list) == 0 {
		return 0
	}
	list = slices.Sorted(slices.Values(list))
	return list[int(q*float64(len(list)-1))]
}
