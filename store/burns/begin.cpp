#include "burns/begin.h"

#include <algorithm>
#include <fstream>
#include <utility>
#include <variant>

#include "burns/open_burn.h"
#include "documents/nearest.h"
#include "documents/toml.h"
#include "documents/zones.h"

namespace pitwright::burns {
namespace {

namespace fs = std::filesystem;

Result<Instant> zero_of(const DraftRequest& request) {
  const auto table = documents::parse_toml("zero = " + request.zero, "--zero");
  if (table && table->entries.size() == 1) {
    const auto& value = table->entries.front().value.of;
    if (const auto* instant = std::get_if<Instant>(&value)) return *instant;
    if (const auto* local = std::get_if<documents::LocalTime>(&value)) {
      return documents::instant_of(*local, request.timezone);
    }
  }
  return fail(ErrorKind::bad_input,
              "--zero expects a date and time such as 2026-05-02T12:30:00, not \"{}\"",
              request.zero);
}

Result<logs::Hints> hints_of(const DraftRequest& request) {
  if (!documents::is_known_zone(request.timezone)) {
    return fail(ErrorKind::bad_input, "unknown time zone '{}'{}", request.timezone,
                documents::suggestion(request.timezone, documents::zone_names()));
  }
  logs::Hints hints;
  hints.timezone = request.timezone;
  hints.date = request.date;
  hints.decimal = request.decimal;
  if (!request.zero.empty()) {
    const auto zero = zero_of(request);
    if (!zero) return std::unexpected(zero.error());
    hints.zero = *zero;
  }
  return hints;
}

/// Where a log goes. Fails where another file of that name is there.
Result<fs::path> place_of(const fs::path& log, const fs::path& directory,
                          const std::vector<fs::path>& taken) {
  auto target = directory / log.filename();
  std::error_code problem;
  const bool there = fs::exists(target, problem);
  const bool same = there && fs::equivalent(log, target, problem);
  if ((there && !same) || std::ranges::find(taken, target) != taken.end()) {
    return fail(ErrorKind::conflict, "{} is there already, and nothing is overwritten; rename {}",
                target.string(), log.string());
  }
  return target;
}

Result<void> write_new(const fs::path& path, const std::string& text) {
  std::error_code problem;
  if (fs::exists(path, problem)) {
    return fail(ErrorKind::conflict, "{} is there already, and nothing is overwritten",
                path.string());
  }
  std::ofstream out(path, std::ios::binary);
  out << text;
  out.close();
  if (!out) return fail(ErrorKind::unavailable, "{} cannot be written", path.string());
  return {};
}

}  // namespace

Result<Begun> begin_burn(const DraftRequest& request, std::span<const fs::path> logs,
                         const fs::path& directory) {
  const auto hints = hints_of(request);
  if (!hints) return std::unexpected(hints.error());
  Begun begun;
  begun.document = directory / "burn.toml";
  std::error_code problem;
  if (fs::exists(begun.document, problem)) {
    return fail(ErrorKind::conflict, "{} is there already, and nothing is overwritten",
                begun.document.string());
  }
  std::vector<logs::Log> read;
  std::vector<fs::path> targets;
  std::vector<std::string> names;
  for (const auto& path : logs) {
    auto log = logs::read_log(path, *hints);
    if (!log) return std::unexpected(log.error());
    read.push_back(*std::move(log));
    auto target = place_of(path, directory, targets);
    if (!target) return std::unexpected(target.error());
    targets.push_back(*target);
    names.push_back(target->filename().string());
  }
  const auto text = draft_burn(request, names, read);
  if (!text) return std::unexpected(text.error());

  fs::create_directories(directory, problem);
  for (std::size_t l = 0; l < targets.size(); ++l) {
    if (fs::exists(targets[l], problem)) continue;
    if (!fs::copy_file(logs[l], targets[l], problem)) {
      return fail(ErrorKind::unavailable, "{} cannot be copied to {}: {}", logs[l].string(),
                  targets[l].string(), problem.message());
    }
    begun.copied.push_back(targets[l]);
  }
  if (auto written = write_new(begun.document, *text); !written) {
    return std::unexpected(written.error());
  }
  if (const auto opened = open_burn(begun.document); !opened) begun.to_mend = opened.error().what;
  return begun;
}

}  // namespace pitwright::burns
