package quantity

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"

	"fitup/internal/geom"
)

// Kinds returns every kind, in order.
func Kinds() []Kind {
	all := make([]Kind, kindCount)
	for i := range all {
		all[i] = Kind(i)
	}
	return all
}

func TestQ(t *testing.T) {
	var q LengthQ
	assert.False(t, q.Known())
	assert.Zero(t, q.V())
	assert.Equal(t, 5.0, q.Or(5))
	assert.Equal(t, "not known", q.Format(Metric(), 1))
	q.SetV(0)
	v, known := q.Get()
	assert.True(t, known)
	assert.Zero(t, v)
	assert.Zero(t, q.Or(5), "a known 0 is not an unknown one")
	assert.Equal(t, MM(0), q)
	assert.Equal(t, "412.0 mm", MM(412).Format(Metric(), 1))
	q.Clear()
	assert.False(t, q.Known())
}

func TestHelpersAgreeWithParse(t *testing.T) {
	for text, q := range map[string]Gettable{
		"412 mm": MM(412), "12 mm left": OffsetMM(-12), "4.4 deg": Degrees(4.4), "4.4 deg down to the rear": Of[slopeDim](4.4 * deg),
		"1 deg rear to the left": Of[headingDim](-deg),
		"3.73":                   Ratio(3.73),
	} {
		want, err := Parse(q.Kind(), text, Inch())
		assert.NoError(t, err)
		got, known := q.Get()
		assert.True(t, known)
		assert.InEpsilon(t, want, got, 1e-14, text)
	}
}

// A binder fills every kind through reflection alone.
func TestReflectionFillsAnyKind(t *testing.T) {
	var all struct {
		A LengthQ
		B OffsetQ
		C AngleQ
		D SlopeQ
		E HeadingQ
		F MassQ
		G ForceQ
		H TorqueQ
		I SpeedQ
		J RoadSpeedQ
		K RateQ
		L StressQ
		M FrequencyQ
		N AngularAccelerationQ
		O UnbalanceQ
		P DensityQ
		Q NumberQ
		R TemperatureQ
		S InertiaQ
	}
	rv := reflect.ValueOf(&all).Elem()
	assert.Equal(t, len(Kinds())-1, rv.NumField()) // counts are worked out, and not typed as such
	for i := range rv.NumField() {
		s, ok := rv.Field(i).Addr().Interface().(Settable)
		assert.True(t, ok)
		assert.Equal(t, Kind(i), s.Kind())
		s.SetV(float64(i))
		v, known := rv.Field(i).Interface().(Gettable).Get()
		assert.True(t, known)
		assert.Equal(t, float64(i), v)
	}
	assert.Equal(t, geom.Angle(3), AsAngle(all.D))
}
