//go:build !linux

package main

// onDisk is nothing where disks can't be mounted for one program alone.
func onDisk() {}
