// Package floorview draws a couple that dances: from behind either partner, from
// opposite, or in the hall.
//
// A [View] is a motion and from where it is seen. It draws any moment on a canvas, in any of
// its modes. From behind and opposite, the picture follows the couple and is as large as
// there is room for what they do next. Of each foot one sees whose it is, its letter, where
// it points and whether it carries the weight: the leader's is broad and the follower's
// pointed, a foot with weight is filled. The next place of each foot is an outline with the
// step's number, and a line leads there.
package floorview
