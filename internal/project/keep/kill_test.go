//go:build unix

package keep

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fitup/internal/inturn"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// How often the kill test kills, and the folder that makes this binary the
// child that is killed.
const (
	killsEnv = "KEEP_KILLS"
	childEnv = "KEEP_CHILD"
)

func TestMain(m *testing.M) {
	if dir := os.Getenv(childEnv); dir != "" {
		if err := child(filepath.Join(dir, "build.toml")); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		return
	}
	os.Exit(m.Run())
}

// generation is a text that proves itself whole: a number, how many entries
// went into it, filling of a size that differs, and a sum.
func generation(gen, taken int) []byte {
	body := fmt.Sprintf("gen %d taken %d\n%s", gen, taken, strings.Repeat("filling ", gen*37%3000))
	return fmt.Appendf(nil, "%s\n%x", body, sha256.Sum256([]byte(body)))
}

func readGeneration(text []byte) (gen, taken int, err error) {
	if _, err = fmt.Sscanf(string(text), "gen %d taken %d\n", &gen, &taken); err != nil {
		return 0, 0, err
	}
	if !bytes.Equal(text, generation(gen, taken)) {
		return 0, 0, fmt.Errorf("generation %d is not whole", gen)
	}
	return gen, taken, nil
}

// child takes up where the last one was killed, then edits and saves for ever
// (nearly), telling every promise it was given before it goes on.
func child(name string) error {
	text, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	gen, _, err := readGeneration(text)
	if err != nil {
		return err
	}
	j, left, err := Open(name, sha256.Sum256(text))
	if err != nil {
		return err
	}
	k := 0
	if left != nil {
		k = len(left.Entries)
	}
	for ; gen < 1_000_000; gen++ {
		for n := k + 1 + gen%4; k < n; k++ {
			raw := json.RawMessage(fmt.Sprintf("[%d,%d]", gen, k))
			if err := j.Append(Entry{Time: noon, Op: OpDo, Label: strings.Repeat("l", k*91%2000), Edits: raw}); err != nil {
				return err
			}
			fmt.Printf("edit %d %d\n", gen, k)
		}
		next := generation(gen+1, k)
		now, was := sha256.Sum256(next), sha256.Sum256(text)
		if err := firstError(func() error { return j.Saving(now) },
			func() error { return Save(name, next, Options{Expect: &was}) }); err != nil {
			return err
		}
		fmt.Printf("save %d %d\n", gen+1, k)
		if err := j.Reset(now); err != nil {
			return err
		}
		text, k = next, 0
	}
	return nil
}

// promises is the newest of each that children told.
type promises struct {
	gen   int // last save
	edits map[int]int
}

func (p *promises) take(t *testing.T, told string) {
	fields := strings.Fields(told)
	require.Len(t, fields, 3, told)
	gen, err := strconv.Atoi(fields[1])
	require.NoError(t, err)
	k, err := strconv.Atoi(fields[2])
	require.NoError(t, err)
	if fields[0] == "save" {
		p.gen = gen
	} else {
		p.edits[gen] = k + 1
	}
}

// killOne starts a child, kills it after a random number of promises, and
// collects all that it told.
func killOne(t *testing.T, dir string, p *promises) {
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), childEnv+"="+dir)
	var complaint bytes.Buffer
	cmd.Stderr = &complaint
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	// The child does not wait for us, and we dawdle for a random while, so
	// where it is when the signal comes is left to chance.
	killAt := rand.IntN(20)
	kill := func() {
		dawdle := sha256.Sum256([]byte{1})
		for range rand.IntN(60_000) {
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

func TestKilledAtAnyMoment(t *testing.T) {
	kills := inturn.Count(10, 25)
	if s := os.Getenv(killsEnv); s != "" {
		n, err := strconv.Atoi(s)
		require.NoError(t, err, killsEnv)
		kills = n
	}
	dir := t.TempDir()
	name := filepath.Join(dir, "build.toml")
	require.NoError(t, Save(name, generation(0, 0), Options{New: true}))
	p := &promises{edits: map[int]int{}}
	inSave, withTemps, withEdits := 0, 0, 0
	for range kills {
		killOne(t, dir, p)
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		gen, taken, err := readGeneration(text)
		require.NoError(t, err, "the file is whole")
		require.Contains(t, []int{p.gen, p.gen + 1}, gen, "old or new")
		if gen > 0 {
			require.GreaterOrEqual(t, taken, p.edits[gen-1])
		}
		withTemps += min(len(temps(t, dir)), 1)
		if gen != p.gen {
			inSave++
		}
		if before, err := Before(name); err == nil {
			was, _, err := readGeneration(before)
			require.NoError(t, err, "the backup is whole")
			require.Contains(t, []int{gen - 1, gen}, was)
		} else {
			require.Zero(t, gen)
		}
		withEdits += checkEdits(t, name, text, gen, p)
		p.gen = gen
	}
	t.Logf("%d kills, generation %d, %d killed with a temporary file open, %d between the rename and the word of it, %d with edits left over", kills, p.gen, withTemps, inSave, withEdits)

	text, err := os.ReadFile(name)
	require.NoError(t, err)
	was := sha256.Sum256(text)
	last := generation(p.gen+1, 0)
	require.NoError(t, Save(name, last, Options{Expect: &was}))
	j, _, err := Open(name, was)
	require.NoError(t, err)
	require.NoError(t, j.Reset(sha256.Sum256(last)))
	require.NoError(t, j.Close())
	assert.Empty(t, temps(t, dir), "the next save clears up after the killed ones")
	old, err := Aside(name)
	require.NoError(t, err)
	assert.Empty(t, old, "no edit was taken for one of another text")
}

func checkEdits(t *testing.T, name string, text []byte, gen int, p *promises) int {
	j, left, err := Open(name, sha256.Sum256(text))
	require.NoError(t, err)
	defer func() { require.NoError(t, j.Close()) }()
	var got []Entry
	if left != nil {
		require.Equal(t, sha256.Sum256(text), left.Base)
		got = left.Entries
	}
	require.GreaterOrEqual(t, len(got), p.edits[gen], "every promised edit is there")
	require.LessOrEqual(t, len(got), p.edits[gen]+1)
	for k, e := range got {
		require.Equal(t, fmt.Sprintf("[%d,%d]", gen, k), string(e.Edits))
	}
	return min(len(got), 1)
}
