package device

// outputs lists the ways to be heard, best first.
func outputs() []opener {
	return []opener{
		{name: "PulseAudio", open: openPulse},
		{name: "aplay", open: openAplay, pause: aplayPause},
	}
}
