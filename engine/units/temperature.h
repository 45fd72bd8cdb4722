#pragma once

#include <chrono>
#include <compare>

namespace pitwright {

/// Elapsed time in numerical code; log stamps stay std::chrono time points.
using Seconds = std::chrono::duration<double>;

/// A moment on the world's clock, UTC.
using Instant = std::chrono::sys_time<std::chrono::milliseconds>;

/// The two scales a person may read. Storage and engine hold degC; a scale is an edge matter.
enum class Scale { celsius, fahrenheit };

/// How much warmer one reading is than another. A change of 1 K is 1 degC is 1.8 degF.
class TemperatureDelta {
 public:
  static constexpr TemperatureDelta from_kelvins(double k) { return TemperatureDelta(k); }
  static constexpr TemperatureDelta from_fahrenheit_degrees(double f) {
    return TemperatureDelta(f / 1.8);
  }
  static constexpr TemperatureDelta from(double degrees, Scale scale) {
    return scale == Scale::celsius ? from_kelvins(degrees) : from_fahrenheit_degrees(degrees);
  }

  constexpr double kelvins() const { return kelvins_; }
  constexpr double fahrenheit_degrees() const { return kelvins_ * 1.8; }
  constexpr double in(Scale scale) const {
    return scale == Scale::celsius ? kelvins() : fahrenheit_degrees();
  }

  friend constexpr auto operator<=>(TemperatureDelta, TemperatureDelta) = default;
  friend constexpr TemperatureDelta operator+(TemperatureDelta a, TemperatureDelta b) {
    return TemperatureDelta(a.kelvins_ + b.kelvins_);
  }
  friend constexpr TemperatureDelta operator*(double s, TemperatureDelta d) {
    return TemperatureDelta(s * d.kelvins_);
  }

 private:
  explicit constexpr TemperatureDelta(double k) : kelvins_(k) {}
  double kelvins_;
};

/// A reading on a thermometer: a point on a scale. Readings subtract to a TemperatureDelta; they
/// do not add, scale, or have a zero, so none is offered.
///
/// Held in degC: a degC log goes in and out unchanged. Tenths of a degF come back equal after
/// rounding to a tenth.
class Temperature {
 public:
  static constexpr Temperature from_celsius(double c) { return Temperature(c); }
  static constexpr Temperature from_fahrenheit(double f) { return Temperature((f - 32.0) / 1.8); }
  static constexpr Temperature from(double degrees, Scale scale) {
    return scale == Scale::celsius ? from_celsius(degrees) : from_fahrenheit(degrees);
  }

  constexpr double celsius() const { return celsius_; }
  constexpr double fahrenheit() const { return celsius_ * 1.8 + 32.0; }
  constexpr double kelvins() const { return celsius_ + 273.15; }
  constexpr double in(Scale scale) const {
    return scale == Scale::celsius ? celsius() : fahrenheit();
  }

  friend constexpr auto operator<=>(Temperature, Temperature) = default;
  friend constexpr TemperatureDelta operator-(Temperature a, Temperature b) {
    return TemperatureDelta::from_kelvins(a.celsius_ - b.celsius_);
  }
  friend constexpr Temperature operator+(Temperature t, TemperatureDelta d) {
    return Temperature(t.celsius_ + d.kelvins());
  }

 private:
  explicit constexpr Temperature(double c) : celsius_(c) {}
  double celsius_;
};

/// Short makers, for constants and tests: degF(225). Functions, not literals, so that degC(-40)
/// means what it says.
constexpr Temperature degC(double c) {
  return Temperature::from_celsius(c);
}
constexpr Temperature degF(double f) {
  return Temperature::from_fahrenheit(f);
}

}  // namespace pitwright
