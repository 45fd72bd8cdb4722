// Wet bulbs, dew points and humidity ratios by PsychroLib (npm psychrolib 1.1.1, MIT), which has
// another formula for saturation (ASHRAE 2017) than ours (IAPWS-IF97).
//   npm install psychrolib@1.1.1 && node make_values.js > expected.csv
// It needs the network and is therefore not among what tools/references makes again.
const psychro = require('psychrolib')
psychro.SetUnitSystem(psychro.SI)
console.log('air_c,pressure_pa,humidity_ratio,wet_bulb_c,dew_point_c,saturation_pa')
for (const pressure of [101325, 84556, 70108]) {
  for (const air of [5, 20, 60, 93.3333, 107.2222, 135, 162.7778]) {
    for (const humidity of [0.004, 0.0073, 0.015, 0.06, 0.2]) {
      const vapor = (pressure * humidity) / (0.621945 + humidity)
      if (vapor > psychro.GetSatVapPres(air)) continue
      const wet = psychro.GetTWetBulbFromHumRatio(air, humidity, pressure)
      // Far above the boiling point its bisection strays; rows that break its own definition are left out.
      if (Math.abs(psychro.GetHumRatioFromTWetBulb(air, wet, pressure) - humidity) > 1e-5) continue
      const dew = psychro.GetTDewPointFromVapPres(air, vapor)
      const row = [air, pressure, humidity, wet.toFixed(6), dew.toFixed(6), psychro.GetSatVapPres(air).toFixed(4)]
      console.log(row.join(','))
    }
  }
}
