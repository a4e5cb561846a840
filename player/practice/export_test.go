package practice

// PlacesOf returns a score's pieces.
var PlacesOf = placesOf

// At returns the passage in which a piece is first danced.
func (p pieceAt) At() int { return p.passage }
