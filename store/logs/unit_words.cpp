#include "logs/unit_words.h"

#include <algorithm>
#include <array>

#include "logs/fields.h"
#include "logs/words.h"

namespace pitwright::logs {
namespace {

constexpr std::array<std::string_view, 5> degree_signs{"\xc2\xb0", "\xc2\xba", "\xe2\x97\xa6",
                                                       "\xb0", "\xba"};

struct UnitWord {
  std::string_view word;
  ChannelUnit unit;
};

constexpr std::array<UnitWord, 41> unit_words{{
    {"f", ChannelUnit::fahrenheit},
    {"degf", ChannelUnit::fahrenheit},
    {"fahrenheit", ChannelUnit::fahrenheit},
    {"\xe2\x84\x89", ChannelUnit::fahrenheit},
    {"c", ChannelUnit::celsius},
    {"degc", ChannelUnit::celsius},
    {"celsius", ChannelUnit::celsius},
    {"centigrade", ChannelUnit::celsius},
    {"\xe2\x84\x83", ChannelUnit::celsius},
    {"k", ChannelUnit::kelvin},
    {"kelvin", ChannelUnit::kelvin},
    {"%", ChannelUnit::percent},
    {"pct", ChannelUnit::percent},
    {"percent", ChannelUnit::percent},
    {"%rh", ChannelUnit::percent},
    {"km/h", ChannelUnit::kmh},
    {"kmh", ChannelUnit::kmh},
    {"kph", ChannelUnit::kmh},
    {"mph", ChannelUnit::mph},
    {"mi/h", ChannelUnit::mph},
    {"m/s", ChannelUnit::mps},
    {"mps", ChannelUnit::mps},
    {"v", ChannelUnit::other},
    {"mv", ChannelUnit::other},
    {"a", ChannelUnit::other},
    {"ma", ChannelUnit::other},
    {"w", ChannelUnit::other},
    {"kw", ChannelUnit::other},
    {"pa", ChannelUnit::other},
    {"hpa", ChannelUnit::other},
    {"kpa", ChannelUnit::other},
    {"bar", ChannelUnit::other},
    {"mbar", ChannelUnit::other},
    {"psi", ChannelUnit::other},
    {"rpm", ChannelUnit::other},
    {"ppm", ChannelUnit::other},
    {"ohm", ChannelUnit::other},
    {"kg", ChannelUnit::other},
    {"lb", ChannelUnit::other},
    {"dbm", ChannelUnit::other},
    {"kg/s", ChannelUnit::other},
}};

struct TimeWord {
  std::string_view word;
  double ms;
};

constexpr std::array<TimeWord, 24> time_words{{
    {"s", 1e3},    {"sec", 1e3},    {"secs", 1e3},         {"second", 1e3},  {"seconds", 1e3},
    {"min", 6e4},  {"mins", 6e4},   {"minute", 6e4},       {"minutes", 6e4}, {"h", 3.6e6},
    {"hr", 3.6e6}, {"hrs", 3.6e6},  {"hour", 3.6e6},       {"hours", 3.6e6}, {"ms", 1.0},
    {"msec", 1.0}, {"millis", 1.0}, {"milliseconds", 1.0}, {"us", 1e-3},     {"microseconds", 1e-3},
    {"ns", 1e-6},  {"d", 8.64e7},   {"day", 8.64e7},       {"days", 8.64e7},
}};

/// What stands in the last brackets of a name: "F" of "Grill (F)".
std::optional<std::string_view> bracketed(std::string_view name) {
  name = trimmed(name);
  if (name.empty() || (name.back() != ')' && name.back() != ']')) return std::nullopt;
  const auto open = name.rfind(name.back() == ')' ? '(' : '[');
  if (open == name.npos) return std::nullopt;
  return trimmed(name.substr(open + 1, name.size() - open - 2));
}

/// The part behind the last '_', ' ', ',' or '/', and whether it makes a unit by itself.
struct Tail {
  std::string_view stem;
  std::string_view last;
  char mark = '\0';
};

Tail tail_of(std::string_view name) {
  const auto at = name.find_last_of("_ ,.-");
  if (at == name.npos) return {{}, name, '\0'};
  const auto stem = trimmed(name.substr(0, at));
  return {stem, trimmed(name.substr(at + 1)), stem.ends_with(',') ? ',' : name[at]};
}

bool is_single_letter(std::string_view word) {
  return word.size() == 1 && lowered(word) >= "a" && lowered(word) <= "z";
}

/// Whether another name has the same stem and a last letter that is no temperature's unit.
bool letters_are_names(const Tail& tail, std::span<const std::string> names) {
  return std::ranges::any_of(names, [&](const std::string& name) {
    const auto other = tail_of(name);
    if (other.stem != tail.stem || !is_single_letter(other.last)) return false;
    const auto letter = lowered(other.last);
    return letter != "f" && letter != "c" && letter != "k";
  });
}

ChannelUnit unit_of_name(std::string_view name, std::span<const std::string> names) {
  if (const auto inside = bracketed(name)) {
    if (const auto unit = unit_of_word(*inside)) return *unit;
    if (time_unit_ms(name)) return ChannelUnit::other;
    return ChannelUnit::unknown;
  }
  const auto tail = tail_of(name);
  const auto unit = unit_of_word(tail.last);
  if (!unit) {
    const bool sign = std::ranges::any_of(degree_signs, [&](std::string_view s) {
      return name.ends_with(std::string(s) + "F") || name.ends_with(std::string(s) + "C");
    });
    if (sign) return name.back() == 'F' ? ChannelUnit::fahrenheit : ChannelUnit::celsius;
    return name.ends_with('%') ? ChannelUnit::percent : ChannelUnit::unknown;
  }
  if (!is_single_letter(tail.last)) return *unit;
  if (*unit == ChannelUnit::other || tail.stem.empty()) return ChannelUnit::unknown;
  if (tail.mark == ',') return *unit;
  static constexpr std::array<std::string_view, 5> stems{"temp", "temps", "temperature", "deg",
                                                         "degrees"};
  const auto words = words_of(tail.stem);
  const bool after_temperature =
      !words.empty() && std::ranges::find(stems, words.back()) != stems.end();
  const bool by_underscore = tail.mark == '_' && !letters_are_names(tail, names);
  return after_temperature || by_underscore ? *unit : ChannelUnit::unknown;
}

}  // namespace

std::optional<ChannelUnit> unit_of_word(std::string_view word) {
  word = trimmed(word);
  for (const auto sign : degree_signs) {
    if (!word.starts_with(sign)) continue;
    word = trimmed(word.substr(sign.size()));
    break;
  }
  auto name = lowered(word);
  for (const std::string_view prefix : {"degrees ", "deg. ", "deg "}) {
    if (name.starts_with(prefix)) name = std::string(trimmed(name.substr(prefix.size())));
  }
  const auto* const found = std::ranges::find(unit_words, name, &UnitWord::word);
  if (found == unit_words.end()) return std::nullopt;
  return found->unit;
}

std::vector<ChannelUnit> units_of_names(std::span<const std::string> names) {
  std::vector<ChannelUnit> units;
  units.reserve(names.size());
  for (const auto& name : names) units.push_back(unit_of_name(name, names));
  return units;
}

std::string_view unit_name(ChannelUnit unit) {
  switch (unit) {
    case ChannelUnit::celsius:
      return "\xc2\xb0"
             "C";
    case ChannelUnit::fahrenheit:
      return "\xc2\xb0"
             "F";
    case ChannelUnit::kelvin:
      return "K";
    case ChannelUnit::percent:
      return "%";
    case ChannelUnit::kmh:
      return "km/h";
    case ChannelUnit::mph:
      return "mph";
    case ChannelUnit::mps:
      return "m/s";
    case ChannelUnit::other:
      return "another unit";
    case ChannelUnit::unknown:
      break;
  }
  return "no unit told";
}

bool is_temperature(ChannelUnit unit) {
  return unit == ChannelUnit::celsius || unit == ChannelUnit::fahrenheit ||
         unit == ChannelUnit::kelvin;
}

bool names_no_temperature(std::string_view name) {
  static constexpr std::array<std::string_view, 21> known{
      "fan",      "blower", "feeder",   "auger",   "heater", "duty",  "output",
      "humidity", "rh",     "wind",     "battery", "volt",   "volts", "voltage",
      "current",  "power",  "pressure", "rssi",    "signal", "flow",  "index"};
  return any_of_words(words_of(name), known);
}

std::optional<double> time_unit_ms(std::string_view name) {
  const auto find = [](std::string_view word) -> std::optional<double> {
    if (word == "\xc2\xb5s" || word == "\xce\xbcs" || word == "\xb5s") return 1e-3;
    const auto* const found = std::ranges::find(time_words, lowered(word), &TimeWord::word);
    if (found == time_words.end()) return std::nullopt;
    return found->ms;
  };
  if (const auto inside = bracketed(name)) return find(*inside);
  return find(tail_of(name).last);
}

bool names_time(std::string_view name) {
  static constexpr std::array<std::string_view, 19> known{
      "time", "timestamp", "datetime", "date",  "elapsed", "clock", "epoch",
      "unix", "utc",       "stamp",    "zeit",  "uhrzeit", "datum", "zeitstempel",
      "tijd", "fecha",     "hora",     "heure", "ts"};
  const auto words = words_of(name);
  if (any_of_words(words, known)) return true;
  if (words.empty()) return false;
  // "t", "t_s", "t [min]", "seconds"
  const bool unit_alone =
      words.size() == 1 && words[0].size() > 1 && time_unit_ms(name).has_value();
  const bool letter =
      words[0] == "t" &&
      (words.size() == 1 ? trimmed(name).size() == 1 : words.size() == 2 && time_unit_ms(name));
  return unit_alone || letter;
}

bool names_elapsed(std::string_view name) {
  static constexpr std::array<std::string_view, 7> known{"elapsed", "duration", "since",  "runtime",
                                                         "uptime",  "offset",   "running"};
  return any_of_words(words_of(name), known);
}

}  // namespace pitwright::logs
