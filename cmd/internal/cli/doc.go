// Package cli is the command line: one file per command, each of which reads
// its flags, asks cmd/internal/app and renders the answer.
package cli
