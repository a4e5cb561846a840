package store

// cautionsSeen is the key under which it is kept that the dancer saw the cautions.
const cautionsSeen = "cautions seen"

// CautionsSeen reports whether the dancer saw the cautions; not if that can't be read.
func CautionsSeen() (bool, error) {
	kept, err := Read[float64]("choices")
	return kept[cautionsSeen] != 0, err
}

// KeepCautionsSeen keeps that the cautions were seen. Without a folder for settings it does nothing.
func KeepCautionsSeen() error {
	if File("choices") == "" {
		return nil
	}
	return Keep("choices", map[string]float64{cautionsSeen: 1})
}
