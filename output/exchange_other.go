//go:build !linux && !darwin

package output

func exchange(_, _ string) error { return errNoExchange }
