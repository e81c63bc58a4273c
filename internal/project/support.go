package project

import (
	"slices"
	"strconv"
	"strings"

	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
)

// TransferCase is a transfer case in a case of its own, which stands on the chassis and
// not on the gearbox.
type TransferCase struct {
	Mass         quantity.MassQ `toml:"mass" doc:"of the transfer case with its oil and its flanges" min:"0" how:"Crane scale, filled." from:"an empty hook" need:"yes"`
	CentreOfMass Point          `toml:"centre_of_mass" doc:"where its centre of mass is as it stands in the vehicle" how:"Hang it level on one hook: the centre lies plumb below; then measure that place where it stands." need:"yes"`
	Note         string         `toml:"note" doc:"anything worth knowing" lines:"yes"`
}

// CarriesCase is what a mount that holds the transfer case carries, as the file spells it.
const CarriesCase = "transfer case"

// Support reports whether the mount holds a transfer case or a carrier bearing, and
// nothing of the powertrain.
func (m *Mount) Support() bool { return m.Carries != "" }

// Bearing is the line and the joint, from 0, whose carrier bearing the mount holds; false
// where it holds none.
func (m *Mount) Bearing() (line string, joint int, ok bool) {
	parts := strings.Split(m.Carries, ".")
	if len(parts) != 4 || parts[0] != "line" || parts[2] != "joint" {
		return "", 0, false
	}
	n, err := strconv.Atoi(parts[3])
	return parts[1], n - 1, err == nil && n > 0
}

// SupportNames are the mounts that hold a transfer case or a carrier bearing.
func (b *Build) SupportNames() (out []string) {
	for i := range b.Mounts {
		if b.Mounts[i].Support() {
			out = append(out, b.Mounts[i].Name)
		}
	}
	return out
}

// Carriable lists what a mount can carry where that is not the powertrain: a transfer case,
// and each joint with a shaft on either side of it.
func (b *Build) Carriable() []string {
	out := []string{CarriesCase}
	for i := range b.Lines {
		for j := 1; j+1 < len(b.Lines[i].Joints); j++ {
			out = append(out, "line."+b.Lines[i].Name+".joint."+strconv.Itoa(j+1))
		}
	}
	return out
}

// checkSupport finds a mount that holds what there is not, or says of itself what only a
// mount of the powertrain has.
func (b *binder) checkSupport(build *Build, m *Mount, root *tomltext.Node) {
	path := "mount." + m.Name
	key, who := path+".carries", "the "+strings.ReplaceAll(m.Name, "_", " ")+" mount"
	_, _, bearing := m.Bearing()
	switch {
	case slices.Contains(PadNames(), m.Name):
		b.fault(at(root, key), key, "%s is one of the powertrain's three pads; give what holds something else another name", who)
	case !slices.Contains(build.Carriable(), m.Carries) && bearing:
		b.fault(at(root, key), key, "%s carries %q, and there is no carrier bearing at that joint; want one with a shaft on either side: %s", who, Printable(m.Carries), Printable(strings.Join(build.Carriable(), ", ")))
	case !slices.Contains(build.Carriable(), m.Carries):
		b.fault(at(root, key), key, "%s carries %q; want \"transfer case\", or a joint between two shafts such as \"line.rear.joint.2\"", who, Printable(m.Carries))
	case m.Corner != "":
		b.fault(at(root, key), key, "%s holds a corner of a subframe and carries something else too; leave corner or carries out", who)
	case m.At.given():
		b.fault(at(root, path+".at"), path+".at", "%s carries nothing of the powertrain, so it has no place on it; leave at out, and give its bracket a pad", who)
	case m.FitUpOnly:
		b.fault(at(root, path+".fit_up_only"), path+".fit_up_only", "%s holds no powertrain; leave fit_up_only out", who)
	case m.Adapter.Begun():
		b.fault(at(root, path+".adapter"), path+".adapter", "%s holds no powertrain, and an adapter plate is bolted to its block; leave adapter out", who)
	case m.Begun() || m.Dynamic.Known() || m.Loss.Known() || m.RateAxis.Known || m.AlongAxis.Known:
		b.fault(at(root, path), path, "%s holds no powertrain: of its rubber nothing is worked out; leave its rates, its rubber and holds out", who)
	}
	if !bearing {
		return
	}
	for i := range build.Mounts {
		if o := &build.Mounts[i]; o.Carries == m.Carries && o.Name < m.Name {
			b.fault(at(root, key), key, "%s is held by mount.%s already; each carrier bearing has one bracket", Printable(m.Carries), Printable(o.Name))
		}
	}
}
