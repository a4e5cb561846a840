package pages

var Wrapped = wrapped
