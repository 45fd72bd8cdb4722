#include "keeping/pack.h"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <set>
#include <sstream>

#include "burns/open_burn.h"
#include "documents/burn_document.h"

namespace pitwright::keeping {
namespace {

namespace fs = std::filesystem;

Result<std::string> bytes_of(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::ostringstream bytes;
  bytes << in.rdbuf();
  if (!in || in.bad()) {
    std::error_code unknown;
    if (fs::file_size(file, unknown) == 0 && !unknown) return std::string();
    return fail(ErrorKind::unavailable, "{}: cannot be read", file.string());
  }
  return std::move(bytes).str();
}

/// The document and every file it names, each once, as absolute paths without "." and "..".
Result<std::vector<fs::path>> files_of(const documents::BurnDocument& document) {
  std::vector<std::string> named{document.path.filename().string()};
  if (!document.pit_file.empty()) named.push_back(document.pit_file);
  if (!document.roll_call_file.empty()) named.push_back(document.roll_call_file);
  for (const auto& log : document.logs) named.push_back(log.file);
  const auto folder = fs::absolute(document.path).parent_path();
  std::vector<fs::path> files;
  for (const auto& name : named) {
    if (fs::path(name).is_absolute()) {
      return fail(ErrorKind::bad_input,
                  "{}: '{}' is named by an absolute path, which another place cannot have; write "
                  "it relative to this file to keep the burn",
                  document.path.string(), name);
    }
    const auto file = (folder / name).lexically_normal();
    if (std::ranges::find(files, file) == files.end()) files.push_back(file);
  }
  return files;
}

bool is_inside(const fs::path& folder, const fs::path& file) {
  const auto [end, ignored] = std::ranges::mismatch(folder, file);
  return end == folder.end();
}

/// The lowest folder that holds all files.
fs::path root_of(const std::vector<fs::path>& files) {
  auto root = files.front().parent_path();
  while (!std::ranges::all_of(files, [&](const fs::path& file) { return is_inside(root, file); })) {
    root = root.parent_path();
  }
  return root;
}

/// "2026-05-02" for ".../2026-05-02/burn.toml", "may" for ".../may.toml".
std::string name_of(const fs::path& document) {
  auto name = document.filename() == "burn.toml" ? document.parent_path().filename().string()
                                                 : document.stem().string();
  for (auto& c : name) {
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) c = '-';
  }
  return name.empty() ? "burn" : name;
}

std::vector<std::string> left_out_of(const fs::path& folder, const std::vector<fs::path>& files) {
  std::set<std::string> names;
  std::error_code unreadable;
  for (const auto& entry : fs::directory_iterator(folder, unreadable)) {
    const auto path = entry.path();
    if (std::ranges::find(files, path) == files.end() && entry.is_regular_file(unreadable)) {
      names.insert(path.filename().string());
    }
  }
  return {names.begin(), names.end()};
}

std::vector<db::Sample> samples_of(const Burn& burn, db::Stamp zero) {
  std::vector<db::Sample> samples;
  for (const auto& probe : burn.probes) {
    for (std::size_t i = 0; i < probe.readings.seconds.size(); ++i) {
      const auto since = std::llround(probe.readings.seconds[i] * 1e6);
      samples.push_back(
          {probe.channel, zero + std::chrono::microseconds(since), probe.readings.values[i]});
    }
  }
  return samples;
}

}  // namespace

Result<Packed> pack(const fs::path& path, const std::string& name) {
  const auto open = burns::open_burn(path);
  if (!open) return std::unexpected(open.error());
  const auto document = documents::read_burn(open->document);
  if (!document) return std::unexpected(document.error());
  const auto files = files_of(*document);
  if (!files) return std::unexpected(files.error());
  const auto root = root_of(*files);

  const auto& burn = open->burn;
  Packed packed;
  auto& keep = packed.burn;
  keep.on_world_clock = burn.clock.zero.has_value();
  const db::Stamp zero = burn.clock.zero.value_or(Instant{});
  keep.head = {name.empty() ? name_of(files->front()) : name,
               burn.title,
               burn.scale,
               burn.matters,
               burn.clock.timezone,
               burn.pit,
               zero};
  keep.document = files->front().lexically_relative(root).generic_string();
  for (const auto& file : *files) {
    auto bytes = bytes_of(file);
    if (!bytes) return std::unexpected(bytes.error());
    keep.files.push_back({file.lexically_relative(root).generic_string(), *std::move(bytes)});
  }
  keep.samples = samples_of(burn, zero);
  packed.left_out = left_out_of(files->front().parent_path(), *files);
  return packed;
}

}  // namespace pitwright::keeping
