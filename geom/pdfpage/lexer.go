package pdfpage

import (
	"strconv"
)

// token of a content stream: an operator, or an operand as float64, string, name, array or dictionary.
type (
	operator   string
	name       string
	dictionary map[name]any
)

// lexer reads a content stream (ISO 32000-1, 7.2 and 7.8.2).
type lexer struct {
	b []byte
	i int
}

func space(c byte) bool { return c == 0 || c == 9 || c == 10 || c == 12 || c == 13 || c == 32 }

func delimiter(c byte) bool {
	switch c {
	case '(', ')', '<', '>', '[', ']', '{', '}', '/', '%':
		return true
	}
	return false
}

func (l *lexer) skip() {
	for l.i < len(l.b) {
		switch c := l.b[l.i]; {
		case space(c):
			l.i++
		case c == '%':
			for l.i < len(l.b) && l.b[l.i] != 10 && l.b[l.i] != 13 {
				l.i++
			}
		default:
			return
		}
	}
}

// next is the next token; ok is false at the end.
func (l *lexer) next(depth int) (token any, ok bool) {
	l.skip()
	if l.i >= len(l.b) || depth > mostDepth {
		return nil, false
	}
	switch c := l.b[l.i]; c {
	case '/':
		l.i++
		return name(l.word()), true
	case '(':
		return l.text(), true
	case '<':
		if l.i+1 < len(l.b) && l.b[l.i+1] == '<' {
			l.i += 2
			return l.dictionary(depth), true
		}
		return l.hex(), true
	case '[':
		l.i++
		var out []any
		for {
			l.skip()
			if l.i >= len(l.b) || l.b[l.i] == ']' {
				l.i++
				return out, true
			}
			t, ok := l.next(depth + 1)
			if !ok {
				return out, true
			}
			out = append(out, t)
		}
	case ')', '>', ']', '{', '}':
		l.i++
		return operator(c), true
	}
	w := l.word()
	if w == "" {
		l.i++
		return operator(""), true
	}
	if v, err := strconv.ParseFloat(w, 64); err == nil && (w[0] == '-' || w[0] == '+' || w[0] == '.' || w[0] >= '0' && w[0] <= '9') {
		return v, true
	}
	return operator(w), true
}

func (l *lexer) word() string {
	start := l.i
	for l.i < len(l.b) && !space(l.b[l.i]) && !delimiter(l.b[l.i]) {
		l.i++
	}
	return string(l.b[start:l.i])
}

func (l *lexer) text() string {
	var out []byte
	depth := 0
	for ; l.i < len(l.b); l.i++ {
		switch c := l.b[l.i]; c {
		case '\\':
			l.i++
			if l.i < len(l.b) {
				out = append(out, l.b[l.i])
			}
			continue
		case '(':
			if depth++; depth == 1 {
				continue
			}
		case ')':
			if depth--; depth == 0 {
				l.i++
				return string(out)
			}
		}
		out = append(out, l.b[l.i])
	}
	return string(out)
}

func (l *lexer) hex() string {
	l.i++
	var digits []byte
	for ; l.i < len(l.b) && l.b[l.i] != '>'; l.i++ {
		if !space(l.b[l.i]) {
			digits = append(digits, l.b[l.i])
		}
	}
	l.i++
	if len(digits)%2 == 1 {
		digits = append(digits, '0')
	}
	var out []byte
	for k := 0; k+1 < len(digits); k += 2 {
		v, _ := strconv.ParseUint(string(digits[k:k+2]), 16, 8)
		out = append(out, byte(v))
	}
	return string(out)
}

func (l *lexer) dictionary(depth int) dictionary {
	out := dictionary{}
	for {
		l.skip()
		if l.i+1 >= len(l.b) {
			l.i = len(l.b)
			return out
		}
		if l.b[l.i] == '>' {
			l.i += 2
			return out
		}
		k, ok := l.next(depth + 1)
		if !ok {
			return out
		}
		key, isName := k.(name)
		if !isName {
			continue
		}
		v, ok := l.next(depth + 1)
		if !ok {
			return out
		}
		out[key] = v
	}
}
