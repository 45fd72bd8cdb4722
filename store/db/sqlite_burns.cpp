#include <algorithm>
#include <charconv>
#include <limits>

#include "db/bodies.h"
#include "db/migrations.h"
#include "db/sqlite_store.h"
#include "documents/nearest.h"
#include "documents/zones.h"

namespace pitwright::db {
namespace {

std::optional<Stamp> maybe_stamp(std::optional<std::int64_t> us) {
  return us ? std::optional(stamp_of(*us)) : std::nullopt;
}

BurnState state_named(std::string_view name) {
  for (const auto state : {BurnState::live, BurnState::closed}) {
    if (name_of(state) == name) return state;
  }
  return BurnState::kept;
}

BurnLine line_of(const Statement& row) {
  BurnLine line;
  line.id = BurnId{row.integer(0)};
  line.name = row.text(1);
  line.title = row.text(2);
  line.state = state_named(row.text(3));
  line.scale = row.text(4) == "C" ? Scale::celsius : Scale::fahrenheit;
  if (!row.is_null(5)) line.matters = TemperatureDelta::from_kelvins(row.real(5));
  line.timezone = row.text(6);
  line.pit = pit_of(row.text(7));
  line.on_world_clock = row.integer(8) != 0;
  line.lit = stamp_of(row.integer(9));
  line.closed = maybe_stamp(row.maybe_integer(10));
  line.content = row.text(11);
  line.first = maybe_stamp(row.maybe_integer(12));
  line.last = maybe_stamp(row.maybe_integer(13));
  line.samples = row.integer(14);
  line.channels = row.integer(15);
  line.records = row.integer(16);
  line.files = row.integer(17);
  line.file_bytes = row.integer(18);
  line.sequence = row.integer(19);
  return line;
}

constexpr std::string_view burn_query =
    "SELECT b.number, b.name, b.title, b.state, b.scale, b.matters_k, b.timezone, b.pit,"
    " b.on_world_clock, b.lit_us, b.closed_us, b.content,"
    " c.first, c.last, coalesce(c.samples, 0), coalesce(c.channels, 0),"
    " (SELECT count(*) FROM record r WHERE r.burn = b.number),"
    " (SELECT count(*) FROM file f WHERE f.burn = b.number),"
    " (SELECT coalesce(sum(size), 0) FROM file f WHERE f.burn = b.number),"
    " (SELECT coalesce(max(sequence), 0) FROM arrival a WHERE a.burn = b.number)"
    " FROM burn b LEFT JOIN (SELECT burn, min(first_us) AS first, max(last_us) AS last,"
    " sum(samples) AS samples, count(*) AS channels FROM channel GROUP BY burn) c"
    " ON c.burn = b.number"
    " WHERE ?1 IS NULL OR b.number = ?1 ORDER BY b.lit_us DESC, b.number DESC";

const char* scale_word(Scale scale) {
  return scale == Scale::celsius ? "C" : "F";
}

/// A NaN is written as NULL.
double matters_k(const NewBurn& burn) {
  return burn.matters ? burn.matters->kelvins() : std::numeric_limits<double>::quiet_NaN();
}

bool is_control(char c) {
  return static_cast<unsigned char>(c) < 0x20 || c == 0x7f;
}

}  // namespace

std::string_view name_of(BurnState state) {
  switch (state) {
    case BurnState::live:
      return "live";
    case BurnState::closed:
      return "closed";
    case BurnState::kept:
      return "kept";
  }
  return "kept";
}

void check_name(const std::string& name) {
  constexpr std::size_t longest = 100;
  if (name.empty() || name.size() > longest || name == "." || name == ".." ||
      name.find('/') != name.npos || std::ranges::any_of(name, is_control)) {
    refuse(ErrorKind::bad_input, "'{}' cannot be a burn's name: 1 to {} letters, without slashes",
           name, longest);
  }
}

SqliteStore::SqliteStore(std::string path, const Opening& opening)
    : connection_(std::move(path), opening.make, opening.patience) {
  migrate(connection_);
}

BurnState SqliteStore::state_of(BurnId burn) {
  auto ask = connection_.prepare("SELECT state FROM burn WHERE number = ?");
  if (!ask.with(number_of(burn)).step()) {
    refuse(ErrorKind::not_found, "{}: there is no burn number {}", connection_.path(),
           number_of(burn));
  }
  return state_named(ask.text(0));
}

bool SqliteStore::is_taken(const std::string& name) {
  return connection_.prepare("SELECT 1 FROM burn WHERE name = ?").with(name).step();
}

/// The live burn that was lit with these very words.
std::optional<BurnId> SqliteStore::same_burn(const NewBurn& burn) {
  auto ask = connection_.prepare(
      "SELECT number FROM burn WHERE name = ? AND title = ? AND scale = ? AND matters_k IS ? AND"
      " timezone = ? AND pit = ? AND lit_us = ? AND state != 'kept'");
  ask.with(burn.name, burn.title, scale_word(burn.scale), matters_k(burn), burn.timezone,
           json_of(burn.pit), us_of(burn.lit));
  return ask.step() ? std::optional(BurnId{ask.integer(0)}) : std::nullopt;
}

BurnId SqliteStore::insert_burn(const NewBurn& burn, BurnState state, bool on_world_clock,
                                const std::string& document, const std::string& content) {
  check_name(burn.name);
  if (!documents::is_known_zone(burn.timezone)) {
    refuse(ErrorKind::bad_input, "unknown time zone '{}'{}", burn.timezone,
           documents::suggestion(burn.timezone, documents::zone_names()));
  }
  const auto maybe = [](const std::string& text) {
    return text.empty() ? std::nullopt : std::optional(text);
  };
  auto insert = connection_.prepare(
      "INSERT INTO burn (name, title, state, scale, matters_k, timezone, pit, on_world_clock,"
      " lit_us, document, content) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) RETURNING number");
  insert.with(burn.name, burn.title, std::string(name_of(state)), scale_word(burn.scale),
              matters_k(burn), burn.timezone, json_of(burn.pit), on_world_clock, us_of(burn.lit),
              maybe(document), maybe(content));
  insert.step();
  const auto number = insert.integer(0);
  insert.run();
  return BurnId{number};
}

Result<BurnId> SqliteStore::light(const NewBurn& burn) {
  return answer([&] {
    Transaction work(connection_);
    if (const auto same = same_burn(burn)) return *same;
    if (is_taken(burn.name)) {
      refuse(ErrorKind::conflict, "there is a burn named '{}' already; give this one another name",
             burn.name);
    }
    const auto id = insert_burn(burn, BurnState::live, true, "", "");
    work.commit();
    return id;
  });
}

Result<void> SqliteStore::close(BurnId burn, Stamp when) {
  return answer([&] {
    Transaction work(connection_);
    const auto state = state_of(burn);
    if (state == BurnState::closed) return;
    if (state == BurnState::kept) {
      refuse(ErrorKind::conflict, "burn number {} was kept from its files; it is not live",
             number_of(burn));
    }
    connection_.prepare("UPDATE burn SET state = 'closed', closed_us = ? WHERE number = ?")
        .with(us_of(when), number_of(burn))
        .run();
    work.commit();
  });
}

std::vector<BurnLine> SqliteStore::burn_lines(std::optional<BurnId> one) {
  std::vector<BurnLine> lines;
  auto ask = connection_.prepare(burn_query);
  ask.with(one ? std::optional(number_of(*one)) : std::nullopt);
  while (ask.step()) lines.push_back(line_of(ask));
  auto has_heading =
      connection_.prepare("SELECT 1 FROM record WHERE burn = ? AND kind = 'heading' LIMIT 1");
  for (auto& line : lines) {
    if (line.records > 0 && has_heading.with(number_of(line.id)).step()) apply_headings(line);
  }
  return lines;
}

void SqliteStore::apply_headings(BurnLine& line) {
  for (const auto& record : standing(records_of(line.id, 0))) {
    const auto* heading = std::get_if<Heading>(&record.what);
    if (heading == nullptr) continue;
    if (heading->title) line.title = *heading->title;
    if (heading->matters_k) line.matters = TemperatureDelta::from_kelvins(*heading->matters_k);
    if (heading->set_point_c) line.pit.set_point = degC(*heading->set_point_c);
  }
}

Result<std::vector<BurnLine>> SqliteStore::burns() {
  return answer([&] { return burn_lines({}); });
}

Result<BurnLine> SqliteStore::burn(BurnId burn) {
  return answer([&] {
    auto lines = burn_lines(burn);
    if (lines.empty()) state_of(burn);
    return std::move(lines.front());
  });
}

Result<BurnLine> SqliteStore::find(std::string_view name_or_number) {
  return answer([&] {
    auto ask = connection_.prepare("SELECT number FROM burn WHERE name = ?");
    if (ask.with(name_or_number).step()) return burn_lines(BurnId{ask.integer(0)}).front();
    std::int64_t number = 0;
    const auto* end = name_or_number.data() + name_or_number.size();
    const auto read = std::from_chars(name_or_number.data(), end, number);
    if (read.ec == std::errc() && read.ptr == end) {
      auto lines = burn_lines(BurnId{number});
      if (!lines.empty()) return std::move(lines.front());
    }
    std::vector<std::string> known;
    for (const auto& line : burn_lines({})) known.push_back(line.name);
    refuse(ErrorKind::not_found, "{}: no burn is named '{}'{}; 'pitwright burns' lists them",
           connection_.path(), name_or_number,
           documents::suggestion(std::string(name_or_number), known));
  });
}

Sequence SqliteStore::next_sequence() {
  auto ask = connection_.prepare("SELECT coalesce(max(sequence), 0) + 1 FROM arrival");
  ask.step();
  return ask.integer(0);
}

void SqliteStore::insert_arrival(Sequence sequence, std::optional<BurnId> burn,
                                 std::optional<std::int64_t> first_us,
                                 std::optional<std::int64_t> last_us) {
  const auto number = burn ? std::optional(number_of(*burn)) : std::nullopt;
  connection_.cached("INSERT INTO arrival (sequence, burn, first_us, last_us) VALUES (?, ?, ?, ?)")
      .with(sequence, number, first_us, last_us)
      .run();
}

}  // namespace pitwright::db
