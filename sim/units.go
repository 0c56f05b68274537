package sim

import "math"

// Angle is an angle in radians. Inside the model every angle is one of these;
// degrees, arc minutes and prism dioptres exist only at its edges.
type Angle float64

// Angles as they are typed in and printed.
type (
	// Degrees are degrees.
	Degrees float64
	// Arcmin are minutes of arc.
	Arcmin float64
	// Prism are prism dioptres (Δ).
	Prism float64
)

// Dioptres is a vergence of light, or the power of a lens, in 1/m.
type Dioptres float64

// Angle converts degrees to radians.
func (d Degrees) Angle() Angle { return Angle(d) * (math.Pi / 180) }

// Angle converts minutes of arc to radians.
func (a Arcmin) Angle() Angle { return Angle(a) * (math.Pi / (180 * 60)) }

// Angle converts prism dioptres to radians: θ = atan(P/100), any P (row P1).
func (p Prism) Angle() Angle { return Angle(math.Atan(float64(p) / 100)) }

// Degrees converts radians to degrees.
func (a Angle) Degrees() Degrees { return Degrees(a * (180 / math.Pi)) }

// Arcmin converts radians to minutes of arc.
func (a Angle) Arcmin() Arcmin { return Arcmin(a * (180 * 60 / math.Pi)) }

// Prism converts radians to prism dioptres: P = 100·tan θ, |θ| < 90° (row P1).
// Angles add, prism dioptres do not.
func (a Angle) Prism() Prism { return Prism(100 * math.Tan(float64(a))) }

// abs is a number without its sign.
func abs[T ~float64](x T) T { return T(math.Abs(float64(x))) }

// Maybe is a value that may not exist: a number that was left out of a set-up,
// or one that the geometry does not give.
type Maybe[T any] struct {
	Value T
	OK    bool
}

// Some is a value that exists.
func Some[T any](v T) Maybe[T] { return Maybe[T]{Value: v, OK: true} }

// Or gives the value, or other where there is none.
func (m Maybe[T]) Or(other T) T {
	if m.OK {
		return m.Value
	}
	return other
}
