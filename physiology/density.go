package physiology

// Density equations turn body density (g/mL, 0.95 to 1.10) into per cent fat.
// They cross near a density of 1.061, 16 % fat; leaner than that Brozek reads
// higher, by 0.9 points at 4 %. A series keeps to one of them.

// Siri is 495/D - 450 (Siri 1961). The standard error of the density is carried
// through; the equation's own error, that of taking lean tissue to be alike in
// all, is not added, because the skinfold errors were found against it.
func Siri(density Estimate) (Estimate, error) {
	if err := within("density", density.Value, 0.95, 1.10, "g/mL"); err != nil {
		return Estimate{}, err
	}
	return siri(density), nil
}

// Brozek is 457/D - 414.2 (Brozek et al. 1963, Ann NY Acad Sci 110:113;
// second-hand). Errors as in Siri.
func Brozek(density Estimate) (Estimate, error) {
	if err := within("density", density.Value, 0.95, 1.10, "g/mL"); err != nil {
		return Estimate{}, err
	}
	return fromDensity(457, 414.2, density), nil
}

// siri is Siri at any density; denser than 1.10 it is negative.
func siri(density Estimate) Estimate { return fromDensity(495, 450, density) }

func fromDensity(a, b float64, d Estimate) Estimate {
	return Estimate{Value: a/d.Value - b, SE: a / square(d.Value) * d.SE}
}
