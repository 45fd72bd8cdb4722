#include <algorithm>
#include <filesystem>

#include "db/bodies.h"
#include "db/sha256.h"
#include "db/sqlite_store.h"
#include "db/squeeze.h"

namespace pitwright::db {
namespace {

/// Whether a file put at this path stays inside the directory it is put into.
bool stays_inside(const std::string& path) {
  const std::filesystem::path all(path);
  const bool has_null = path.find('\0') != path.npos;
  return !path.empty() && !has_null && all.is_relative() && all.has_filename() &&
         std::ranges::none_of(all, [](const auto& part) { return part == ".." || part == "."; });
}

void check(const ToKeep& burn) {
  bool has_document = false;
  std::vector<std::string> paths;
  for (const auto& file : burn.files) {
    if (!stays_inside(file.path)) {
      refuse(ErrorKind::bad_input, "'{}' leads out of the burn's directory; it cannot be kept",
             file.path);
    }
    has_document = has_document || file.path == burn.document;
    paths.push_back(file.path);
  }
  std::ranges::sort(paths);
  if (!has_document || std::ranges::adjacent_find(paths) != paths.end()) {
    refuse(ErrorKind::bad_input, "a burn needs its document and every file once to be kept");
  }
}

/// Over the document's path and every file's path, size and bytes, in order of the paths; sizes
/// stand before what they measure, so that no two sets of files give one text.
std::string content_of(const std::string& document, const std::vector<KeptFile>& files) {
  std::vector<const KeptFile*> ordered;
  for (const auto& file : files) ordered.push_back(&file);
  std::ranges::sort(ordered, {}, [](const KeptFile* file) { return file->path; });
  Sha256 sum;
  sum.add(fmt::format("{}:{}", document.size(), document));
  for (const auto* file : ordered) {
    sum.add(fmt::format("{}:{}{}:", file->path.size(), file->path, file->bytes.size()));
    sum.add(file->bytes);
  }
  return sum.hexadecimal();
}

}  // namespace

std::string SqliteStore::free_name(const std::string& name) {
  check_name(name);
  auto free = name;
  for (int n = 2; is_taken(free); ++n) free = fmt::format("{}-{}", name, n);
  return free;
}

void SqliteStore::insert_file(BurnId burn, const KeptFile& file) {
  const auto packed = squeezed(file.bytes);
  connection_.prepare("INSERT INTO file (burn, path, size, packed) VALUES (?, ?, ?, ?)")
      .with(number_of(burn), file.path, std::ssize(file.bytes), std::as_bytes(std::span(packed)))
      .run();
}

Result<Kept> SqliteStore::keep(const ToKeep& burn) {
  return answer([&] {
    check(burn);
    const auto content = content_of(burn.document, burn.files);
    Transaction work(connection_);
    auto ask = connection_.prepare("SELECT number, name FROM burn WHERE content = ?");
    if (ask.with(content).step()) return Kept{BurnId{ask.integer(0)}, ask.text(1), true};
    auto head = burn.head;
    head.name = free_name(head.name);
    const auto id = insert_burn(head, BurnState::kept, burn.on_world_clock, burn.document, content);
    for (const auto& file : burn.files) insert_file(id, file);
    insert_samples(id, burn.samples);
    work.commit();
    return Kept{id, head.name, false};
  });
}

Result<std::vector<KeptFile>> SqliteStore::files(BurnId burn) {
  return answer([&] {
    Transaction look(connection_, Transaction::For::reading);
    if (state_of(burn) != BurnState::kept) {
      refuse(ErrorKind::conflict, "burn number {} was live; it has no files to take out",
             number_of(burn));
    }
    auto head = connection_.prepare("SELECT document, content FROM burn WHERE number = ?");
    head.with(number_of(burn)).step();
    const auto document = head.text(0);
    auto ask = connection_.prepare(
        "SELECT path, size, packed FROM file WHERE burn = ? ORDER BY path = ? DESC, path");
    ask.with(number_of(burn), document);
    std::vector<KeptFile> files;
    while (ask.step()) {
      auto bytes = unsqueezed(ask.blob(2), static_cast<std::size_t>(ask.integer(1)));
      if (!bytes) connection_.damaged(fmt::format("its file '{}' cannot be unpacked", ask.text(0)));
      files.push_back({ask.text(0), *std::move(bytes)});
    }
    if (content_of(document, files) != head.text(1)) {
      connection_.damaged(
          fmt::format("the files of burn number {} are not those that were kept", number_of(burn)));
    }
    return files;
  });
}

Result<void> SqliteStore::remember(const KnownPit& pit) {
  return answer([&] {
    if (pit.pit.name.empty())
      refuse(ErrorKind::bad_input, "a pit needs a name to be remembered by");
    Transaction work(connection_);
    const auto body = json_of(pit);
    auto ask =
        connection_.prepare("SELECT body FROM pit WHERE name = ? ORDER BY sequence DESC LIMIT 1");
    if (ask.with(pit.pit.name).step() && ask.text(0) == body) return;
    const auto sequence = next_sequence();
    insert_arrival(sequence, {}, {}, {});
    connection_.prepare("INSERT INTO pit (sequence, name, body) VALUES (?, ?, ?)")
        .with(sequence, pit.pit.name, body)
        .run();
    work.commit();
  });
}

Result<std::vector<KnownPit>> SqliteStore::pits() {
  return answer([&] {
    auto ask =
        connection_.prepare("SELECT body, max(sequence) FROM pit GROUP BY name ORDER BY name");
    std::vector<KnownPit> all;
    while (ask.step()) {
      all.push_back(known_pit_of(ask.text(0)));
      all.back().sequence = ask.integer(1);
    }
    return all;
  });
}

}  // namespace pitwright::db
