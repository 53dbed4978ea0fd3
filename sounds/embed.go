// Package sounds holds the sounds of the cues: NAME.wav, 48 kHz, one channel, 16 bit.
// They are made by internal/sound/gensounds, which says what each is like.
package sounds

import "embed"

// FS holds the files.
//
//go:embed *.wav
var FS embed.FS
