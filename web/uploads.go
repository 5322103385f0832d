package web

import (
	"crypto/rand"
	"sync"
	"time"

	"glidepath/fault"
	"glidepath/sheet"
)

// uploads are files that were sent and wait to be confirmed; they are in memory
// alone, for a while.
type uploads struct {
	mu  sync.Mutex
	now func() time.Time
	by  map[string]waiting
}

// waiting is one of them, for one reader and one athlete.
type waiting struct {
	name, athleteID, accountID string
	kind                       sheet.Kind
	content                    []byte
	at                         time.Time
}

const (
	uploadLife  = 30 * time.Minute
	mostUploads = 24
)

func (u *uploads) keep(one waiting) string {
	u.mu.Lock()
	defer u.mu.Unlock()
	if u.by == nil {
		u.by = map[string]waiting{}
	}
	one.at = u.now()
	oldest := ""
	for key, o := range u.by {
		if u.now().Sub(o.at) > uploadLife {
			delete(u.by, key)
		} else if oldest == "" || o.at.Before(u.by[oldest].at) {
			oldest = key
		}
	}
	if len(u.by) >= mostUploads {
		delete(u.by, oldest)
	}
	key := rand.Text()
	u.by[key] = one
	return key
}

// find gives back a file to who sent it, for the athlete it was sent for.
func (u *uploads) find(key, athleteID, accountID string) (waiting, error) {
	u.mu.Lock()
	defer u.mu.Unlock()
	one, ok := u.by[key]
	if !ok || one.athleteID != athleteID || one.accountID != accountID || u.now().Sub(one.at) > uploadLife {
		return waiting{}, fault.New(fault.NotFound, "The file is not here any more.").
			WithHint("A file waits for half an hour. Nothing of it was stored; send it again.")
	}
	return one, nil
}

func (u *uploads) drop(key string) {
	u.mu.Lock()
	defer u.mu.Unlock()
	delete(u.by, key)
}

// forget drops what waits for an athlete who is erased.
func (u *uploads) forget(athleteID string) {
	u.mu.Lock()
	defer u.mu.Unlock()
	for key, one := range u.by {
		if one.athleteID == athleteID {
			delete(u.by, key)
		}
	}
}
