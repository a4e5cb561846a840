//go:build !unix

package main

import "os"

var crashSignal = os.Interrupt // which no test sends here
