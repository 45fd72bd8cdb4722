#include "rehearsal/toml_text.h"

#include <chrono>
#include <cmath>

#include <date/tz.h>
#include <fmt/format.h>

namespace pitwright::rehearsal {

std::string toml_string(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) {
      out += fmt::format("\\u{:04x}", static_cast<unsigned char>(c));
    } else {
      out += c;
    }
  }
  return out + '"';
}

std::string toml_list(const std::vector<std::string>& texts) {
  std::string out = "[";
  for (const auto& text : texts) out += (out.size() > 1 ? ", " : "") + toml_string(text);
  return out + "]";
}

std::string length_text(double metres) {
  return fmt::format("\"{:g} cm\"", std::round(metres * 1e4) / 100);
}

std::string_view scale_letter(Scale scale) {
  return scale == Scale::fahrenheit ? "F" : "C";
}

std::string temperature_text(Temperature temperature, Scale scale) {
  return fmt::format("\"{:g} {}\"", std::round(temperature.in(scale)*10) / 10, scale_letter(scale));
}

std::string local_time(Instant instant, const std::string& timezone) {
  const auto ms = instant.time_since_epoch();
  std::chrono::milliseconds shift{0};
  if (!timezone.empty()) {
    const date::sys_seconds moment{std::chrono::floor<std::chrono::seconds>(ms)};
    shift = date::locate_zone(timezone)->get_info(moment).offset;
  }
  const std::chrono::sys_time<std::chrono::milliseconds> local{ms + shift};
  const auto day = std::chrono::floor<std::chrono::days>(local);
  const std::chrono::year_month_day ymd{day};
  const std::chrono::hh_mm_ss time{local - day};
  auto text = fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}", static_cast<int>(ymd.year()),
                          static_cast<unsigned>(ymd.month()), static_cast<unsigned>(ymd.day()),
                          time.hours().count(), time.minutes().count(), time.seconds().count());
  if (time.subseconds().count() != 0) text += fmt::format(".{:03}", time.subseconds().count());
  return text;
}

}  // namespace pitwright::rehearsal
