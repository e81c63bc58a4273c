package press

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/book"
	"fitup/internal/project"
	"fitup/internal/project/keep"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func job(t *testing.T, text []byte) Job {
	t.Helper()
	path := filepath.Join(t.TempDir(), "build.toml")
	require.NoError(t, os.WriteFile(path, text, 0o600))
	f, err := project.Load(path)
	require.NoError(t, err)
	return Job{File: f, Path: path, Date: "2026-01-31", Size: book.PaperSizes()[0], Dir: Folder(path, Book)}
}

// A job tells how far it is, never backwards, and what it has written.
func TestJobTellsHowFarItIs(t *testing.T) {
	j := job(t, starter.Demo())
	var parts []float64
	var doing []string
	done, err := j.Do(context.Background(), func(p Progress) { parts, doing = append(parts, p.Part), append(doing, p.Doing) })
	require.NoError(t, err)
	assert.IsNonDecreasing(t, parts)
	assert.LessOrEqual(t, parts[len(parts)-1], 1.0)
	assert.Subset(t, doing, []string{"assessing", "mounts", "findings", "pages", "writing"})
	assert.Equal(t, "book.pdf", done.First)
	assert.Equal(t, len(tree(t, j.Dir)), done.More+1)
	assert.Equal(t, "findings, 60 %", Progress{"findings", 0.6}.String())
}

// Wherever a job is ended, in the making or the writing, nothing of it is left and what
// stood there is as it was.
func TestJobEndedLeavesNothing(t *testing.T) {
	j := job(t, starter.Demo())
	steps := 0
	_, err := j.Do(context.Background(), func(Progress) { steps++ })
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(j.Dir, "book.md"), []byte("mine"), 0o600))
	before := tree(t, j.Dir)
	for _, at := range []int{1, steps / 3, steps - 1} {
		for _, dir := range []string{j.Dir, filepath.Join(j.Dir, "..", "none", "deep")} {
			ctx, end := context.WithCancel(context.Background())
			n := 0
			k := j
			k.Dir = dir
			_, err := k.Do(ctx, func(Progress) {
				if n++; n >= at {
					end()
				}
			})
			require.ErrorIs(t, err, context.Canceled, "%d", at)
			end()
		}
		assert.Equal(t, before, tree(t, j.Dir), "%d", at)
		assert.NoDirExists(t, filepath.Join(j.Dir, "..", "none"))
	}
}

// What cannot be made is told from what cannot be written.
func TestJobErrorsSayWhoseTheyAre(t *testing.T) {
	j := job(t, []byte("format = 3\n"))
	j.What = Templates
	_, err := j.Do(context.Background(), func(Progress) {})
	var made MadeError
	require.ErrorAs(t, err, &made)
	j.What = Bench
	j.Dir = j.Path
	_, err = j.Do(context.Background(), func(Progress) {})
	require.ErrorContains(t, err, "is a file, and a folder is wanted there")
	assert.NotErrorAs(t, err, &made)
}

// The book says which states the file had, and marks what is not saved.
func TestBookHasTheHistory(t *testing.T) {
	j := job(t, starter.Demo())
	text := strings.Replace(string(starter.Demo()), `name = "`, `name = "new `, 1)
	require.NoError(t, keep.Save(j.Path, []byte(text), keep.Options{}))
	f, err := project.Load(j.Path)
	require.NoError(t, err)
	j.File, j.Only, j.Unsaved = f, []string{"history"}, true
	_, err = j.Do(context.Background(), func(Progress) {})
	require.NoError(t, err)
	md := tree(t, j.Dir)["book.md"]
	assert.Contains(t, md, "name ")
	assert.Contains(t, md, "state of | what has changed since")
	assert.Contains(t, md, "with changes that are not saved")
	assert.NotContains(t, md, "no earlier state")
}

// How closely each mount has to be placed stands on the bench sheet where all that is held
// holds; where something is past its limit already that is said instead.
func TestHowCloselyTheMountsHaveToBePlaced(t *testing.T) {
	over := closely(context.Background(), assess.Run(job(t, starter.Demo()).File.Build))
	assert.Contains(t, over.Why, "measure or move first")
	assert.Empty(t, over.Half)

	text := regexp.MustCompile(`(?m)^joint_max = .*$`).ReplaceAllString(string(starter.Demo()), `joint_max = "4 deg"`)
	c := closely(context.Background(), assess.Run(job(t, []byte(text)).File.Build))
	require.Empty(t, c.Why)
	assert.Len(t, c.Half, 5)
	for name, half := range c.Half {
		assert.Greater(t, half, 0.5, name)
	}
	assert.Contains(t, closely(context.Background(), assess.Run(job(t, []byte("format = 3\n")).File.Build)).Why, "placement")
}

// How closely is asked of hundreds of places: that ends when it is told to, too.
func TestHowCloselyEnds(t *testing.T) {
	text := regexp.MustCompile(`(?m)^joint_max = .*$`).ReplaceAllString(string(starter.Demo()), `joint_max = "4 deg"`)
	ctx, end := context.WithCancel(context.Background())
	end()
	c := closely(ctx, assess.Run(job(t, []byte(text)).File.Build))
	assert.Equal(t, context.Canceled.Error(), c.Why)
	assert.Empty(t, c.Half)
}
