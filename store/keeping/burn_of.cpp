#include "keeping/burn_of.h"

#include <filesystem>
#include <utility>

#include "keeping/live_burn.h"
#include "keeping/unpack.h"

namespace pitwright::keeping {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view in_store = "store:";

/// Puts "store:NAME" where a text names the folder that the files stand in for a moment.
void rename(std::string& text, const std::string& folder, const std::string& name) {
  for (auto at = text.find(folder); at != text.npos; at = text.find(folder, at)) {
    text.replace(at, folder.size(), name);
    at += name.size();
  }
}

Result<burns::OpenBurn> kept_burn(db::Store& store, const db::BurnLine& line) {
  const auto files = store.files(line.id);
  if (!files) return std::unexpected(files.error());
  std::error_code none;
  const auto place = TemporaryDirectory::in(fs::temp_directory_path(none));
  if (!place) return std::unexpected(place.error());
  const auto folder = place->path() / line.name;
  const auto name = std::string(in_store) + line.name;
  const auto document = unpack(*files, folder);
  if (!document) return std::unexpected(document.error());
  auto open = burns::open_burn(*document);
  if (!open) {
    rename(open.error().what, folder.string(), name);
    return open;
  }
  open->document = fs::path(name) / files->front().path;
  for (auto& log : open->logs) log.path = fs::path(name) / log.path.lexically_relative(folder);
  return open;
}

}  // namespace

Result<burns::OpenBurn> burn_of(db::Store& store, db::BurnId burn) {
  const auto line = store.burn(burn);
  if (!line) return std::unexpected(line.error());
  if (line->state == db::BurnState::kept) return kept_burn(store, *line);
  // Records first: a sample that arrives in between then only makes the burn a little longer.
  const auto records = store.records(burn);
  if (!records) return std::unexpected(records.error());
  const auto samples = store.samples(burn);
  if (!samples) return std::unexpected(samples.error());
  auto made = live_burn(*line, *records, *samples);
  if (!made) return std::unexpected(made.error());
  return burns::OpenBurn{std::move(made->burn),
                         fs::path(std::string(in_store) + line->name),
                         {},
                         std::move(made->assumed)};
}

Result<burns::OpenBurn> open_burn(std::string_view burn, std::string_view database) {
  if (!burn.starts_with(in_store)) return burns::open_burn(fs::path(burn));
  const auto place = db::store_place(database);
  if (!place) return std::unexpected(place.error());
  const auto store = db::open_store(*place, {.make = false});
  if (!store) return std::unexpected(store.error());
  const auto line = (*store)->find(burn.substr(in_store.size()));
  if (!line) return std::unexpected(line.error());
  return burn_of(**store, line->id);
}

}  // namespace pitwright::keeping
