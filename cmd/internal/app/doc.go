// Package app holds the use cases: it fetches nouns from the catalogue, has
// them judged, and returns one answer that text, JSON and page render alike.
package app
