//go:build unix

package session

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"fitup/internal/inturn"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// How often the kill test kills, shared with the one of the package keep, and
// the folder that makes this binary the child that is killed.
const (
	killsEnv = "KEEP_KILLS"
	childEnv = "SESSION_CHILD"
)

func TestMain(m *testing.M) {
	if dir := os.Getenv(childEnv); dir != "" {
		if err := child(filepath.Join(dir, "build.toml")); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		return
	}
	inturn.Draws(30)
	os.Exit(m.Run())
}

func tell(word string, text []byte) { fmt.Printf("%s %x\n", word, sha256.Sum256(text)) }

// child takes up what the last one left and works for ever (nearly): real edits
// to a real build, steps back, saves, as the bench does them: queued, and carried
// out beside. Before each it says what it is about to make, and now and then,
// when all of it is acknowledged, what it has.
func child(path string) error {
	s, left, err := OpenShared(path, time.Now)
	if err != nil {
		return err
	}
	if s.Holder() != nil {
		return fmt.Errorf("the lock of a killed program is in the way: %v", s.Holder())
	}
	if left != nil {
		if err := s.Restore(left, edit.Neither).Err; err != nil {
			return err
		}
	}
	tell("have", s.Now().Bytes())
	typed := []byte("null")
	if left != nil && left.Draft != nil {
		typed = left.Draft
	}
	tell("typed", typed)
	q := NewQueue(s, func(jerr error) { err = errors.Join(err, jerr) })
	for range 1_000_000 {
		switch n := rand.IntN(10); {
		case n < 2:
			text := s.Now().Bytes()
			tell("saving", text)
			q.Save(SaveHow{}, func(done Saved) {
				err = errors.Join(err, done.Err)
				tell("saved", text)
			})
		case n < 4 && len(s.Now().Build.Readings) > 6:
			err = do(q, "reading out", edit.Edit{Op: edit.OpRemove, Path: "reading[3]"})
		case n < 4:
			var e edit.Edit
			if e, err = edit.AddReading(s.Now(), edit.TypedReading{Of: "powertrain", On: project.Along, Shown: "3.5 deg", Lower: project.RearEnd}, time.Now()); err == nil {
				err = do(q, "reading", e)
			}
		case n < 5 && rand.IntN(2) == 0:
			if typed = fmt.Appendf(nil, `"%d"`, rand.IntN(1000)); rand.IntN(4) == 0 {
				typed = []byte("null")
			}
			tell("typing", typed)
			q.Draft(typed)
		case n < 5:
			fmt.Println("doing any") // what a step back gives is not known before
			_, _, err = q.Undo()
			finish(q)
		default:
			var edits []edit.Edit
			if edits, err = edit.MoveRow(s.Now(), 2, -300+rand.Float64()*40); err == nil {
				err = do(q, "rear mount", edits...)
			}
		}
		if rand.IntN(3) == 0 {
			finish(q)
			tell("typed", typed)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// finish carries out on another goroutine what is queued.
func finish(q *Queue) {
	for q.Busy() {
		task := q.Next()
		go task.Run()
		task.End()
	}
	tell("have", q.Now().Bytes())
}

func do(q *Queue, label string, edits ...edit.Edit) error {
	next, err := edit.Apply(q.Now(), edits...)
	if err != nil {
		return err
	}
	tell("doing", next.Bytes())
	return q.Do(label, edits...)
}

// told is what a child said last.
type told struct {
	have, saved, typed    string
	doing, saving, typing []string
}

func (p *told) take(t *testing.T, line string) {
	word, sum, ok := strings.Cut(line, " ")
	require.True(t, ok, line)
	switch word {
	case "have":
		p.have, p.doing = sum, nil
	case "doing":
		p.doing = append(p.doing, sum)
	case "typed":
		p.typed, p.typing = sum, nil
	case "typing":
		p.typing = append(p.typing, sum)
	case "saving":
		p.saving = append(p.saving, sum)
	case "saved":
		p.saved, p.saving = sum, p.saving[1:]
	default:
		require.Fail(t, "strange line", line)
	}
}

func killOne(t *testing.T, dir string, p *told) {
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), childEnv+"="+dir)
	var complaint bytes.Buffer
	cmd.Stderr = &complaint
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	killAt := rand.IntN(40)
	kill := func() {
		dawdle := sha256.Sum256([]byte{1})
		for range rand.IntN(60_000) { // so that chance says where the child is
			dawdle = sha256.Sum256(dawdle[:])
		}
		require.NoError(t, cmd.Process.Kill())
	}
	if killAt == 0 {
		kill()
	}
	lines := bufio.NewScanner(out)
	for n := 1; lines.Scan(); n++ {
		p.take(t, lines.Text())
		if n == killAt {
			kill()
		}
	}
	require.Error(t, cmd.Wait())
	require.Empty(t, complaint.String(), "the child must die of the signal alone")
}

// A build that is edited and saved by a program killed at random moments: the
// file always loads and is the old state or the new one, no edit that was told
// of is lost, and no lock stands in the way.
func TestWorkSurvivesKills(t *testing.T) {
	kills := inturn.Count(8, 20)
	if s := os.Getenv(killsEnv); s != "" {
		n, err := strconv.Atoi(s)
		require.NoError(t, err, killsEnv)
		kills = n
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "build.toml")
	require.NoError(t, os.WriteFile(path, starter.Demo(), 0o644))
	sum := func(b []byte) string { return fmt.Sprintf("%x", sha256.Sum256(b)) }
	p := &told{saved: sum(starter.Demo()), have: sum(starter.Demo()), typed: sum([]byte("null"))}
	inSave, withWork, withTyped := 0, 0, 0
	for range kills {
		killOne(t, dir, p)
		src, err := os.ReadFile(path)
		require.NoError(t, err)
		if slices.Contains(p.saving, sum(src)) {
			inSave++
			p.saved = sum(src)
		}
		require.Equal(t, p.saved, sum(src), "old or new")
		s, left, err := Open(path, clock)
		require.NoError(t, err, "it loads")
		if left != nil && left.Entries > 0 {
			withWork++
			require.True(t, left.Fits)
			require.NoError(t, s.Restore(left, edit.Neither).Err)
		}
		if got := sum(s.Now().Bytes()); !slices.Contains(p.doing, "any") && got != p.have {
			require.Contains(t, p.doing, got, "no edit that was told of is lost")
		}
		typed := []byte("null")
		if left != nil && left.Draft != nil {
			typed, withTyped = left.Draft, withTyped+1
		}
		if got := sum(typed); got != p.typed {
			require.Contains(t, p.typing, got, "what was being typed is what was told of, or newer")
		}
		p.typed, p.typing = sum(typed), nil
		p.have, p.doing, p.saving = sum(s.Now().Bytes()), nil, nil
		assert.NoError(t, s.Sync())
	}
	t.Logf("%d kills, %d in a save, %d with work left over, %d with something typed", kills, inSave, withWork, withTyped)
}
