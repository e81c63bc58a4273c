package keep

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"unicode"
)

var (
	errIsFolder    = errors.New("is a folder")
	errNotOrdinary = errors.New("is not an ordinary file")
	errManyLinks   = errors.New("too many links")
	errJournalFull = errors.New("the journal is full")
	errStrange     = errors.New("the journal is not one of ours")
	errInTheWay    = errors.New("something else has the name of the hidden folder")
)

// fault is a plain sentence with its causes behind it.
type fault struct {
	msg    string
	why    string // the cause and what to do, without any path
	causes []error
}

func (f *fault) Error() string   { return f.msg }
func (f *fault) Unwrap() []error { return f.causes }

// Why returns what is behind an error of this package and what to do about it,
// without naming files, for a place that says already which file it is about.
// Another error comes back as it is.
func Why(err error) string {
	var f *fault
	if !errors.As(err, &f) || f.why == "" {
		return err.Error()
	}
	return f.why
}

// fault is the sentence head, cause, tail.
func (s spot) fault(head string, at where, tail string, causes ...error) *fault {
	cause := errors.Join(causes...)
	brief := s
	brief.brief = true
	return &fault{msg: head + s.explain(at, cause) + tail, why: brief.explain(at, cause), causes: causes}
}

// where says what a step was working on, because the same refusal of the system
// means different things to the person.
type where int

const (
	inFile where = iota
	inFolder
	inSidecar
)

// spot is the file in question: as the person calls it, and where it really is.
type spot struct {
	path, target string
	brief        bool // say it without naming folders
}

func (s spot) notSaved(at where, causes ...error) error {
	return s.fault(show(s.path)+" is not saved: ", at, "; nothing was changed", causes...)
}

func (s spot) unconfirmed(cause error) error {
	why := "the disk did not confirm it (" + plain(cause) + "); check the disk and save again before you switch off"
	return &fault{
		msg:    show(s.path) + " holds the new text, but " + why,
		why:    "the file holds the new text, but " + why,
		causes: []error{ErrUnconfirmed, cause},
	}
}

func (s spot) notJournalled(cause error) error {
	return s.fault("the last edit of "+show(s.path)+" is not in the journal: ", inSidecar,
		"; the edit itself stands, save the file so that no crash can lose it", cause)
}

func (s spot) journalFault(what string, cause error) error {
	return s.fault("the journal of "+show(s.path)+" cannot be "+what+": ", inSidecar, "; the file itself was not changed", cause)
}

func noBefore(path string, cause error) error {
	return &fault{msg: "there is no earlier state of " + show(path) + " to be read", causes: []error{cause}}
}

// explain says why, and after the semicolon what to do.
func (s spot) explain(at where, cause error) string {
	target := s.target
	if target == "" { // it could not be found out
		target = s.path
	}
	folder := "the folder " + show(filepath.Dir(target))
	hidden := show(sidecar(target))
	if at == inSidecar {
		folder = "the hidden folder " + hidden
	}
	if s.brief {
		hidden = "the name of the hidden folder beside the file"
		folder = "the folder it lies in"
		if at == inSidecar {
			folder = "the hidden folder beside it"
		}
	}
	if why := diskSays(cause); why != "" {
		return why
	}
	if why := s.notUsable(target, hidden, cause); why != "" {
		return why
	}
	switch is := func(target error) bool { return errors.Is(cause, target) }; {
	case is(ErrChangedOutside) && is(fs.ErrNotExist):
		return "it was moved or deleted since it was read; put it back, or save under another name"
	case is(ErrChangedOutside):
		return "somebody else changed it since it was read; save under another name and compare the two, or load it again"
	case isNotFolder(cause):
		return "part of that path is a file, not a folder; check the spelling"
	case is(fs.ErrNotExist) && at == inFile:
		return "it was moved or deleted just now; put it back, or save under another name"
	case is(fs.ErrNotExist):
		return folder + ", or what was just written in it, is not there; check the path, then try again"
	case is(fs.ErrPermission) && at == inFile:
		return "the file is read-only; allow writing to it, or save under another name"
	case is(fs.ErrPermission):
		return folder + " is read-only; allow writing to it, or save in another folder"
	}
	return "the disk reports " + plain(cause) + "; check the disk, then try again"
}

// diskSays explains what the disk itself refuses, or returns nothing.
func diskSays(cause error) string {
	switch {
	case isFull(cause):
		return "the disk is full; free some space, then try again"
	case isQuota(cause):
		return "your share of the disk is used up; free some space, then try again"
	case isReadOnlyDisk(cause):
		return "the disk is read-only; use another disk, or make this one writable"
	case isBusy(cause):
		return "another program is holding the file; close it there, then try again"
	case isLongName(cause):
		return "the disk does not take this name; choose a shorter, plainer one"
	}
	return ""
}

// plain strips the call and the path from a system error.
func plain(err error) string {
	var pe *fs.PathError
	var le *os.LinkError
	switch {
	case errors.As(err, &pe):
		err = pe.Err
	case errors.As(err, &le):
		err = le.Err
	}
	return `"` + show(err.Error()) + `"`
}

// show makes a name safe for a terminal.
func show(s string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return '?'
		}
		return r
	}, s)
}

// notUsable says what is wrong with the thing itself; empty when it is not that.
func (s spot) notUsable(target, hidden string, cause error) string {
	switch is := func(target error) bool { return errors.Is(cause, target) }; {
	case is(errIsFolder):
		if s.brief {
			return "it is a folder; name a file in it"
		}
		return "it is a folder; name a file in it, such as " + show(filepath.Join(target, "build.toml"))
	case is(errNotOrdinary):
		return "it is not an ordinary file; choose another name"
	case is(errManyLinks):
		return "its links lead in a circle; name the file itself"
	case is(errInTheWay):
		return hidden + " is needed as a folder and is something else; move it away, then try again"
	case is(errStrange):
		what := show(filepath.Join(sidecar(target), journalName))
		if s.brief {
			what = "the journal in the hidden folder"
		}
		return what + " is not what this program writes; move it away, then try again"
	case is(errJournalFull):
		return "the journal is full; save the file, which starts a new one"
	case is(ErrExists):
		return "there is already a file of that name; choose another name"
	}
	return ""
}
