package device

// outputs returns the ways to open an output, best first.
func outputs() []opener {
	return []opener{
		{name: "PulseAudio", open: openPulse},
		{name: "aplay", open: openAplay, pause: aplayPause},
	}
}
