package artwork

import (
	"sugarwright/geom"
	"sugarwright/geom/finding"
)

// ReadPath reads path data for tests: its points, and whether it was read to its end.
func ReadPath(d string) (points [][2]float64, ok bool) {
	p, err := parsePath(d)
	for _, s := range p {
		for _, q := range s.pts {
			points = append(points, q)
		}
	}
	return points, err == nil
}

// ReadTransform reads a transform list, of an attribute or of a style, for tests.
func ReadTransform(s string, css bool) (geom.Affine, bool) {
	if css {
		m, err := parseCSSTransform(s, View{0, 0, 100, 100}, usualFont)
		return m, err == nil
	}
	m, err := parseTransform(s)
	return m, err == nil
}

// ReadSheet counts the rules of a style sheet for tests.
func ReadSheet(text string) int {
	s := &sheetReader{found: &finding.List{}}
	s.read(text, finding.Source{})
	return len(s.rules)
}
