// Package web is the page: Counter, Bay and Office. It asks the same use cases
// as the command line and renders their answers; every question is a GET whose
// address is the whole state, and every page has a JSON twin.
package web
