#include <array>
#include <cerrno>
#include <cstring>
#include <optional>
#include <string_view>

#include <fcntl.h>
#include <unistd.h>

#include "logs/fields.h"
#include "logs/number.h"
#include "sensors/attribute.h"
#include "sensors/thermometers.h"

namespace pitwright::feed {
namespace {

constexpr double per_degree = 1000.0;

Result<double> number_in(const std::filesystem::path& file) {
  const auto text = attribute(file);
  if (!text) return std::unexpected(text.error());
  const auto value = logs::parse_decimal(logs::trimmed(*text), '.');
  if (!value) return fail(ErrorKind::unavailable, "{}: shows no number", file.string());
  return *value;
}

/// "... crc=2d YES\n... t=23062\n"; NO: the checksum failed.
Result<double> one_wire_text(const std::filesystem::path& file) {
  const auto text = attribute(file);
  if (!text) return std::unexpected(text.error());
  if (!text->contains("YES")) {
    return fail(ErrorKind::unavailable, "{}: the checksum failed; look at wire and pull-up",
                file.string());
  }
  const auto at = text->find("t=");
  const auto rest = at == text->npos ? std::string_view{} : std::string_view(*text).substr(at + 2);
  const auto value = logs::parse_decimal(logs::trimmed(rest), '.');
  if (!value) return fail(ErrorKind::unavailable, "{}: shows no temperature", file.string());
  return *value / per_degree;
}

Result<double> iio_raw(const std::filesystem::path& file) {
  const auto raw = number_in(file);
  if (!raw) return raw;
  const auto name = file.filename().string();
  const auto beside = [&](std::string_view what) -> std::optional<double> {
    const auto own =
        number_in(file.parent_path() / (name.substr(0, name.rfind('_') + 1) + std::string(what)));
    if (own) return *own;
    const auto shared = number_in(file.parent_path() / ("in_temp_" + std::string(what)));
    if (shared) return *shared;
    return std::nullopt;
  };
  const auto scale = beside("scale");
  if (!scale) return fail(ErrorKind::unavailable, "{}: has no scale beside it", file.string());
  return (*raw + beside("offset").value_or(0.0)) * *scale / per_degree;
}

/// 85 degC is what a DS18B20 holds after power-up, before its first conversion.
/// Source: its data sheet, from memory.
constexpr double power_up_c = 85.0;

}  // namespace

Result<std::string> attribute(const std::filesystem::path& file) {
  std::array<char, 4096> bytes{};
  const int fd = ::open(file.c_str(), O_RDONLY | O_CLOEXEC);
  const auto n = fd < 0 ? -1 : ::read(fd, bytes.data(), bytes.size());
  const int why = errno;
  if (fd >= 0) ::close(fd);
  if (n < 0) return fail(ErrorKind::unavailable, "{}: {}", file.string(), std::strerror(why));
  return std::string(bytes.data(), static_cast<std::size_t>(n));
}

Result<double> read_celsius(const Thermometer& thermometer) {
  using Kind = Thermometer::Kind;
  const auto& file = thermometer.file;
  const auto value = [&]() -> Result<double> {
    if (thermometer.kind == Kind::one_wire_text) return one_wire_text(file);
    if (thermometer.kind == Kind::iio_raw) return iio_raw(file);
    const auto milli = number_in(file);
    if (!milli) return milli;
    return *milli / per_degree;
  }();
  const bool one_wire =
      thermometer.kind == Kind::one_wire || thermometer.kind == Kind::one_wire_text;
  if (value && one_wire && *value == power_up_c) {
    return fail(ErrorKind::unavailable, "{}: shows 85 degC exactly, its value before it measures",
                file.string());
  }
  return value;
}

}  // namespace pitwright::feed
