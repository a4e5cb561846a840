package picture

var Sized = sized
