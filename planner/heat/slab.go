package heat

import "math"

// Slab is what the boil is poured on.
type Slab struct {
	AreaM2 float64
	StartC float64
	Stone  string // steel, granite or marble
	Cooled bool   // by water, from below
}

// What a slab holds by its stone, J/(m2 K), and how it resists heat on the way to its middle, m2 K/W: steel of 10 mm,
// granite of 20, marble of 30; from handbook densities, heats and conductivities.
var Stones = []string{"steel", "granite", "marble"} // that are known

var stones = map[string][2]float64{
	"steel":   {38_000, 0.01 / 2 / 45},
	"granite": {43_000, 0},
	"marble":  {71_000, 0},
}

// The sugar on the slab: its heat, J/(kg K), conductivity, W/(m K), and weight, kg/m3, between 120 and 70 C; contact, W/(m2
// K), within the published 100 to 1000 of dry contact; what a fresh place takes when it is turned each minute; water in
// its pipe.
const (
	boilCp      = 1900
	boilK       = 0.33
	boilRho     = 1400
	contactW    = 250
	turnedW     = 137 // 2 k / sqrt(pi a 60 s)
	pipeW       = 600
	pipeC       = 15
	roomC       = 25
	spreadMin   = 2
	leastSheetM = 0.008
	foldTimes   = 2.5
	mostFoldM   = 0.05
	emissivity  = 0.9
)

// Cooling is how many minutes after it has been poured a boil has come to each of some heats in the mean, falling:
// spread over the slab for two minutes, then its edges turned in and the whole turned each minute. Infinity where that
// takes more than two hours.
func (s Slab) Cooling(kg, pouredC float64, to []float64) []float64 {
	stone := stones[s.Stone]
	sheet := math.Max(leastSheetM, kg/(boilRho*s.AreaM2))
	folded := math.Min(foldTimes*sheet, mostFoldM)
	t, ts := pouredC, s.StartC
	out := make([]float64, len(to))
	k := 0
	const dt = 0.5 // seconds
	for step := 0; k < len(to); step++ {
		if t <= to[k] {
			out[k] = float64(step) * dt / 60
			k++
			continue
		}
		if float64(step)*dt > 7200 {
			for ; k < len(to); k++ {
				out[k] = math.Inf(1)
			}
			break
		}
		u, area := 1/(1.0/contactW+sheet/(3*boilK)+stone[1]), kg/(boilRho*sheet)
		if float64(step)*dt >= spreadMin*60 {
			u, area = 1/(1.0/contactW+1.0/turnedW+stone[1]), kg/(boilRho*folded)
		}
		kelvin, room := t+273.15, roomC+273.15
		air := emissivity*5.67e-8*(kelvin*kelvin+room*room)*(kelvin+room) + 1.6*math.Pow(math.Max(0, t-roomC), 0.25) + 1
		down := u * (t - ts) * area
		t -= dt * (down + air*(t-roomC)*area) / (kg * boilCp)
		water := 0.0
		if s.Cooled {
			water = pipeW * s.AreaM2 * (ts - pipeC)
		}
		ts += dt * (down - water) / (stone[0] * s.AreaM2)
	}
	return out
}
