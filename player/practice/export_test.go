package practice

// PlacesOf lists a score's pieces.
var PlacesOf = placesOf

// At is where in the score a piece is danced first.
func (p pieceAt) At() int { return p.passage }
