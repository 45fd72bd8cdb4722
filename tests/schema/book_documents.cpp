#include <cstdio>

#include <fmt/core.h>

#include "book/book.h"
#include "burns/open_burn.h"

// Prints what `pitwright book --json` says of the example in both units and of made-up pieces that
// fill the rest of the document, each ended by a NUL: book_documents SOURCE_DIR.
namespace {

using namespace pitwright;

void print(const burns::OpenBurn& open, const std::optional<book::Told>& told, Scale scale) {
  const auto made = book::make_book(open, told, scale);
  if (!made) return;
  fmt::print("{}", book::book_json(*made));
  std::putchar('\0');
}

/// Poultry under 165 degF that cools down, with entries, a correction, a signature and an undo.
burns::OpenBurn poultry() {
  burns::OpenBurn open;
  open.burn.clock.zero = Instant(std::chrono::hours(490000));
  Probe probe;
  probe.channel = "leg";
  probe.role = Role::food;
  probe.piece = "bird";
  for (int minute = 0; minute <= 720; ++minute) {
    const double warm = minute <= 120 ? minute * 0.5 + 4.0 : 64.0 - (minute - 120) * 0.11;
    probe.readings.seconds.push_back(60.0 * minute);
    probe.readings.values.push_back(warm);
  }
  open.burn.probes.push_back(probe);
  Piece piece;
  piece.name = "bird";
  piece.cut = "turkey";
  piece.rule = "turkey 12 %, hold 135 F, 2 h, my own";
  piece.on_s = 0.0;
  piece.off_s = 7200.0;
  open.burn.pieces.push_back(piece);
  piece.name = "none";
  piece.rule = "";
  open.burn.pieces.push_back(piece);
  return open;
}

db::Record record(const std::string& id, const std::string& corrects, db::Sequence sequence,
                  decltype(db::Record::what) what) {
  return {id, corrects, "AB", db::Stamp(std::chrono::hours(490013)), std::move(what), sequence};
}

book::Told told() {
  const db::Stamp at(std::chrono::hours(490012));
  db::Food food;
  food.name = "bird";
  food.rule = "2 h";
  book::Told all;
  all.history.push_back(record("f", "", 1, food));
  food.rule = "4 h";
  all.history.push_back(record("g", "f", 2, food));
  all.history.push_back(record("a", "", 3, db::BookEntry{"action", at, "bird", {}, {}, "chilled"}));
  all.history.push_back(
      record("b", "a", 4, db::BookEntry{"action", at, "bird", {}, {}, "chilled in ice"}));
  all.history.push_back(record("s", "", 5, db::BookEntry{"signature", at, "", {}, {}, ""}));
  all.history.push_back(
      record("r", "", 6, db::BookEntry{"reading", at, "bird", 3.5, "C", "received"}));
  all.history.push_back(record("w", "", 7, db::BookEntry{"action", at, "bird", {}, {}, "wrong"}));
  all.history.push_back(record("u", "", 8, db::Undo{"w", "another bird"}));
  all.arrivals.push_back(5);
  return all;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) return 2;
  const std::filesystem::path source(argv[1]);
  const auto night = burns::open_burn(source / "examples" / "overnight");
  if (!night) return 1;
  print(*night, {}, Scale::fahrenheit);
  print(*night, {}, Scale::celsius);
  print(poultry(), told(), Scale::fahrenheit);
  return 0;
}
