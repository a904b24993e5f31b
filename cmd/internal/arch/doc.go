// Package arch holds the rules of which package may know which, and the test
// that keeps them.
package arch
