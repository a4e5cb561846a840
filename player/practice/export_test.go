package practice

// PlacesOf returns a score's pieces.
var PlacesOf = placesOf

// At returns the passage in which a piece is first danced.
func (p pieceAt) At() int { return p.passage }

// Stability returns after how many days the likelihood that it is known falls to nine in ten.
func (m Memory) Stability() float64 { return m.card.Stability }

// Difficulty returns a number from 1, easy, to 10; 0 for something never practised.
func (m Memory) Difficulty() float64 { return m.card.Difficulty }
