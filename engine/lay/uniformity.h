#pragma once

#include <optional>
#include <string>
#include <vector>

#include "call/together.h"
#include "lay/lay.h"

namespace pitwright::lay {

// Published uniformity figures of one setting. A pit is no certified chamber or furnace: the
// figures say what it would come to by these definitions, each with its uncertainty.

/// What one spot showed over the counted time.
struct SpotRecord {
  std::string spot;
  Place place;
  double mean_c, low_c, high_c, sd_k;
  double uncertainty_k;  ///< +- at 95 % of mean_c against the other spots and the scale
};

/// IEC 60068-3-5, figures by its definitions; ranges are 95 %.
struct IecFigures {
  int center = 0;             ///< of the records: nearest to the middle of the working space
  double center_off_m = 0.0;  ///< how far from the middle it lies
  Estimate achieved_c;        ///< mean at the center
  std::vector<Estimate> variation_k;  ///< per record: its mean less the center's
  std::vector<double> fluctuation_k;  ///< per record: +- half of highest less lowest
  std::vector<double> two_sd_k;       ///< per record: +- twice the sd
  Estimate gradient_k;                ///< largest difference between two means
  double worst_fluctuation_k = 0.0;
  std::optional<Estimate> indicated_error_k;  ///< dial or set point less the center's mean
};

/// AMS2750: the narrowest furnace class whose band about the set point holds every reading.
struct AmsFigures {
  Estimate worst_k;                  ///< largest distance of any reading from the set point
  std::optional<int> furnace_class;  ///< 1..6 by value; empty: wider than class 6
  bool set_assumed = false;          ///< no set point: the mean of the spots stands in
  std::optional<int> class_sure;     ///< the class that holds at the range's far end
};

/// ASTM E145: +- largest distance of a mean from the reference, as a share of its rise over
/// outside.
struct AstmFigures {
  Estimate percent;
  std::string type;  ///< "IIA", "IA", "IIB", "IB" (1, 2, 2.5, 5 %); empty: wider than all
  bool outside_assumed = false;
  std::vector<double> ratio;  ///< per record: (T - outside) / (mean - outside)
};

struct Uniformity {
  IecFigures iec;
  AmsFigures ams;
  AstmFigures astm;
  int spots = 0;
  bool fewer_than_nine = false;  ///< the standards ask for nine places or more
};

struct UniformityConditions {
  std::optional<double> set_c;      ///< else the mean of the records stands in
  std::optional<double> shown_c;    ///< what the pit's own display shows, mean
  std::optional<double> outside_c;  ///< else 20 +- 10 degC is assumed and the range widened
  std::optional<Place> middle;      ///< of the working space; else the middle of the records
};

/// Figures of one setting. Fails: bad_input with fewer than two records.
/// Source: IEC 60068-3-5:2001/2018, SAE AMS2750F, ASTM E145-19; see docs/methods/lay.md.
Result<Uniformity> uniformity(const std::vector<SpotRecord>& records,
                              const UniformityConditions& conditions);

/// The records of one setting; spots without counted readings are left out.
std::vector<SpotRecord> records_of(const call::Together& together, int setting);

/// Half width of an AMS2750 furnace class [K], 1..6: 3, 6, 8, 10, 14, 28.
double furnace_class_k(int furnace_class);

}  // namespace pitwright::lay
