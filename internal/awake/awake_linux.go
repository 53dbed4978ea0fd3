package awake

import (
	"context"
	"fmt"
	"time"

	"github.com/godbus/dbus/v5"
	"golang.org/x/sys/unix"
)

const patience = 2 * time.Second // for an answer

// keep asks the login manager not to sleep and the desktop not to blank the
// screen; either may be missing, and one of them is taken as success.
func keep() (func(), error) {
	sleep, errSleep := holdSleep()
	screen, errScreen := holdScreen()
	if errSleep != nil && errScreen != nil {
		return nil, fmt.Errorf("%w; %w", errScreen, errSleep)
	}
	return func() {
		for _, end := range []func(){sleep, screen} {
			if end != nil {
				end()
			}
		}
	}, nil
}

// holdSleep holds a lock of the login manager: a file that it watches.
func holdSleep() (func(), error) {
	bus, err := connect(dbus.SystemBusPrivate)
	if err != nil {
		return nil, fmt.Errorf("login manager: %w", err)
	}
	defer func() { _ = bus.Close() }()
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	var lock dbus.UnixFD
	err = bus.Object("org.freedesktop.login1", "/org/freedesktop/login1").
		CallWithContext(ctx, "org.freedesktop.login1.Manager.Inhibit", 0, "idle:sleep", who, why, "block").Store(&lock)
	if err != nil {
		return nil, fmt.Errorf("login manager: %w", err)
	}
	return func() { _ = unix.Close(int(lock)) }, nil
}

// holdScreen asks the desktop, which forgets it when the connection closes.
func holdScreen() (func(), error) {
	bus, err := connect(dbus.SessionBusPrivateNoAutoStartup)
	if err != nil {
		return nil, fmt.Errorf("desktop: %w", err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	var cookie uint32
	err = bus.Object("org.freedesktop.ScreenSaver", "/org/freedesktop/ScreenSaver").
		CallWithContext(ctx, "org.freedesktop.ScreenSaver.Inhibit", 0, who, why).Store(&cookie)
	if err != nil {
		_ = bus.Close()
		return nil, fmt.Errorf("desktop: %w", err)
	}
	return func() { _ = bus.Close() }, nil
}

// connect opens a bus of one's own and says hello.
func connect(open func(...dbus.ConnOption) (*dbus.Conn, error)) (*dbus.Conn, error) {
	bus, err := open()
	if err != nil {
		return nil, err
	}
	if err := bus.Auth(nil); err != nil {
		_ = bus.Close()
		return nil, err //nolint:wrapcheck // the caller says whom it was for
	}
	if err := bus.Hello(); err != nil {
		_ = bus.Close()
		return nil, err //nolint:wrapcheck // the caller says whom it was for
	}
	return bus, nil
}
