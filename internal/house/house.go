// Package house holds the repository to what it says of itself: its imports, its findings, its documents.
package house
