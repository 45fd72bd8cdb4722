#include "book/words.h"

#include <cmath>

#include <fmt/format.h>

#include "report/degrees.h"
#include "report/moments.h"

namespace pitwright::book {

std::string degrees_text(double celsius, Scale scale) {
  const double value = Temperature::from_celsius(celsius).in(scale);
  return report::number_text(value, scale == Scale::celsius ? 1 : 0, false) +
         report::scale_mark(scale);
}

std::string limit_text(double fahrenheit, Scale scale) {
  return degrees_text((fahrenheit - 32.0) / 1.8, scale);
}

std::string date_text(std::chrono::year_month_day date) {
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
}

std::string known_words(safety::Known known) {
  if (known == safety::Known::read) return "";
  if (known == safety::Known::second_hand) return " (second-hand: read in a text that quotes it)";
  return " (from memory: check it before you rely on it)";
}

std::string_view known_name(safety::Known known) {
  if (known == safety::Known::read) return "read";
  return known == safety::Known::second_hand ? "second-hand" : "from memory";
}

std::string source_text(const safety::Source& source) {
  auto text = source.document + ", " + source.edition;
  if (!source.where.empty()) text += ", " + source.where;
  return text + known_words(source.known);
}

std::string dwell_text(double dwell_s) {
  constexpr double minute_s = 60.0;
  constexpr double tenth = 10.0;
  if (std::fmod(dwell_s, minute_s) == 0.0) return report::duration_text(dwell_s);
  if (dwell_s < 5 * minute_s) return fmt::format("{:g} s", std::round(dwell_s * tenth) / tenth);
  return fmt::format("{:g} min", std::round(dwell_s / minute_s * tenth) / tenth);
}

}  // namespace pitwright::book
