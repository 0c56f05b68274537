package sim

// midline is how far to a side a direction must lie to belong to a half of the retina,
// rad: that of a target on the midline of an eye is off it by rounding.
const midline = 1e-12
