package live

import (
	"context"
	"time"

	"github.com/fsnotify/fsnotify"
)

// How the files are followed. An editor writes a file in several steps, or another in its place: what comes within
// settleTime is one change. A file that is not there may be about to be put in its place.
const (
	settleTime = 40 * time.Millisecond
	absentTime = 150 * time.Millisecond
	lookTime   = 250 * time.Millisecond // between two looks where the system tells of no changes
	slowLook   = 5 * time.Second        // and where it does: some file systems tell of none
)

// follow reads the files again whenever they change, until the context is done. The folders are watched and not the
// files: a file that is replaced is another, of which nothing is told.
func (f *files) follow(ctx context.Context, say func(string), changed func(string, *edition)) {
	f.work(ctx, changed, f.now())
	look := lookTime
	watcher, err := fsnotify.NewWatcher()
	if err == nil {
		defer watcher.Close()
		for _, folder := range f.folders() {
			if err = watcher.Add(folder); err != nil {
				break
			}
		}
	}
	var events chan fsnotify.Event
	var errs chan error
	if err != nil {
		say("the system tells of no changes here; the file is looked at four times a second instead")
	} else {
		look, events, errs = slowLook, watcher.Events, watcher.Errors
	}
	tick := time.NewTicker(look)
	defer tick.Stop()
	settle := time.NewTimer(0)
	defer settle.Stop()
	<-settle.C
	for {
		select {
		case <-ctx.Done():
			return
		case <-events:
			settle.Reset(settleTime)
		case <-errs: // events were lost
			settle.Reset(settleTime)
		case <-tick.C:
			f.look(ctx, changed)
		case <-settle.C:
			f.look(ctx, changed)
		}
	}
}

// look reads the files and tells what is new. A file that is missing is waited for a moment.
func (f *files) look(ctx context.Context, changed func(string, *edition)) {
	before := f.now()
	for _, path := range []string{f.set, f.plan} {
		if path != "" && !before.gone && !there(path) {
			select {
			case <-ctx.Done():
				return
			case <-time.After(absentTime):
			}
		}
	}
	now, other := f.read(before)
	if !other {
		return
	}
	f.lock.Lock()
	f.current = now
	f.lock.Unlock()
	changed(eventFile, now)
	f.work(ctx, changed, now)
}

// quietTime is how long the first states of a new set have the processors for themselves.
const quietTime = 400 * time.Millisecond

// work has the report of a new set worked out behind what the pages ask for, then its remedies tried. Of a set that is
// no more the one at hand nothing is begun, and of no two at a time.
func (f *files) work(ctx context.Context, changed func(string, *edition), e *edition) {
	if e.set == nil {
		return
	}
	f.background.Go(func() {
		select {
		case <-ctx.Done():
			return
		case <-time.After(quietTime):
		}
		f.trying.Lock()
		defer f.trying.Unlock()
		for _, do := range []func(){func() { e.report() }, e.try} {
			if ctx.Err() != nil || f.now().made != e.made || e.triedReport.Load() != nil {
				return
			}
			do()
		}
		if now := f.now(); now.made == e.made {
			changed(eventRemedies, now)
		}
	})
}
