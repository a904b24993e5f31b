// Package codes tells what a trouble code of the cooling system means, what
// else may cause it than the part that is about to be sold, and which cheap
// checks come first.
//
// A code is matched by its characters, never by its title: titles changed from
// one edition of SAE J2012 to the next.
package codes
