package keep

import (
	"errors"
	"io/fs"
	"path/filepath"
)

const (
	undoName = "undo"
	maxUndo  = 4 << 20 // bytes
)

// WriteUndo keeps the caller's undo steps of the file at path, in place of what
// was kept before. They are a comfort, so the disk is not waited for: after a
// power cut they may be gone, and the caller must be able to tell steps that
// belong to another text.
func (g Gate) WriteUndo(path string, data []byte) error {
	target, err := locate(path)
	at := spot{path: path, target: target}
	if err == nil {
		err = writeUndo(g.disk(), target, data)
	}
	if err != nil {
		return &fault{msg: "the undo steps of " + show(path) + " are not kept: " + at.explain(inSidecar, err), causes: []error{err}}
	}
	return nil
}

func writeUndo(d disk, target string, data []byte) error {
	info, err := d.Lstat(target)
	if err != nil {
		return err
	}
	dir, err := makeSidecar(d, target, info)
	if err != nil {
		return err
	}
	name := filepath.Join(dir, undoName)
	if len(data) == 0 || len(data) > maxUndo {
		return ignoreMissing(d.Remove(name))
	}
	return writeWhole(d, name, data, ownWritable{info}, false)
}

// ReadUndo returns what WriteUndo kept; nil when there is nothing.
func ReadUndo(path string) ([]byte, error) {
	target, err := locate(path)
	if err != nil {
		return nil, err
	}
	d, name := osDisk{}, ""
	name = filepath.Join(sidecar(target), undoName)
	info, err := d.Lstat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, err
	case !info.Mode().IsRegular() || info.Size() > maxUndo:
		return nil, errStrange
	}
	return d.ReadFile(name)
}
