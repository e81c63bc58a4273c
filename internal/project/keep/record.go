package keep

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"time"
)

// A journal is lines. Each is the CRC-32C of its JSON in eight hex digits, a
// space, the JSON, a line feed. The first is the header; each of the others is
// an entry or a mark that says which text was about to be saved.

const journalVersion = 1

// maxJournal is the largest journal, in bytes, that is written or read.
const maxJournal = 32 << 20

// maxEntries leaves room for the header and for the marks of a few hundred
// saves, so that a journal full of entries never stands in the way of a save.
const maxEntries = maxJournal - 64<<10

// The ops of an Entry.
const (
	OpDo   = "do"
	OpUndo = "undo"
	OpRedo = "redo"
)

// Entry is one thing done to the text since the last save.
type Entry struct {
	Time  time.Time       `json:"time"`
	Op    string          `json:"op"`              // OpDo, OpUndo or OpRedo
	Label string          `json:"label,omitempty"` // in words, for the person
	Edits json.RawMessage `json:"edits,omitempty"` // the caller's own; comes back compacted
	After string          `json:"after,omitempty"` // SHA-256 in hex of the text it made
}

// digest is a SHA-256 that reads and writes itself as hex.
type digest [sha256.Size]byte

func (d digest) MarshalText() ([]byte, error) { return hex.AppendEncode(nil, d[:]), nil }

func (d *digest) UnmarshalText(text []byte) error {
	if hex.DecodedLen(len(text)) != len(d) || len(text)%2 != 0 {
		return errors.New("want 64 hex digits")
	}
	_, err := hex.Decode(d[:], text)
	return err
}

type header struct {
	Version int       `json:"fitup_journal"`
	Base    digest    `json:"base"`
	Time    time.Time `json:"time,omitzero"`  // of the entry it was started for
	Text    []byte    `json:"text,omitempty"` // what Base is the hash of
}

// line is what follows the header: an entry, or a mark of a save, which with a
// draft is none.
type line struct {
	Entry  *Entry  `json:"entry,omitempty"`
	Saving *digest `json:"saving,omitempty"`
	Draft  *Draft  `json:"draft,omitempty"`
}

// checksum is made with a table that the first call works out.
func checksum(text []byte) uint32 {
	return crc32.Checksum(text, crc32.MakeTable(crc32.Castagnoli))
}

const crcDigits = 8

func encode(v any) ([]byte, error) {
	text, err := json.Marshal(v)
	if err != nil {
		return nil, err
	}
	return fmt.Appendf(nil, "%08x %s\n", checksum(text), text), nil
}

// decode takes one line without its line feed apart.
func decode(raw []byte, v any) bool {
	var sum [crcDigits / 2]byte
	if len(raw) <= crcDigits || raw[crcDigits] != ' ' {
		return false
	}
	if _, err := hex.Decode(sum[:], raw[:crcDigits]); err != nil {
		return false
	}
	text := raw[crcDigits+1:]
	want := uint32(sum[0])<<24 | uint32(sum[1])<<16 | uint32(sum[2])<<8 | uint32(sum[3])
	return checksum(text) == want && json.Unmarshal(text, v) == nil
}

// ending is how a journal stops.
type ending int

const (
	clean   ending = iota
	torn           // in the middle of its last line, as a crash leaves it
	damaged        // at a line that cannot be read, with more behind it
)

// contents is what can be read of a journal.
type contents struct {
	readable bool // the header is; all else is empty when not
	header   header
	lines    []line
	draft    *Draft // the last one; nil when nothing was typed
	good     int64  // bytes up to and with the last line that can be read
	end      ending
}

// readJournal reads any bytes whatever.
func readJournal(data []byte) contents {
	var c contents
	rest := data
	for len(rest) > 0 {
		raw, next, whole := bytes.Cut(rest, []byte{'\n'})
		if !whole {
			c.end = torn
			return c
		}
		if !c.take(raw) {
			c.end = damaged
			if len(next) == 0 && c.readable {
				c.end = torn // nothing behind it, so nothing else is lost
			}
			return c
		}
		c.good += int64(len(rest) - len(next))
		rest = next
	}
	return c
}

func (c *contents) take(raw []byte) bool {
	if !c.readable {
		var h header
		if !decode(raw, &h) || h.Version != journalVersion {
			return false
		}
		c.header, c.readable = h, true
		return true
	}
	var l line
	if !decode(raw, &l) || (l.Entry == nil) == (l.Saving == nil) {
		return false
	}
	if l.Draft != nil {
		c.draft = l.Draft
		if l.Draft.none() {
			c.draft = nil
		}
		return true
	}
	c.lines = append(c.lines, l)
	return true
}

// since returns the entries that are not yet in the text with the hash base, and
// whether the journal belongs to that text at all. A text that was about to be
// saved and is now on disk holds every entry before the mark.
func (c *contents) since(base digest) ([]Entry, bool) {
	from, ok := 0, c.header.Base == base
	for i, l := range c.lines {
		if l.Saving != nil && *l.Saving == base {
			from, ok = i+1, true
		}
	}
	var entries []Entry
	for _, l := range c.lines[from:] {
		if l.Entry != nil {
			entries = append(entries, *l.Entry)
		}
	}
	return entries, ok && c.readable
}
