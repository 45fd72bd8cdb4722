#include "book/book.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <utility>

#include "access/gate.h"
#include "book/entries.h"
#include "http/body.h"
#include "http/replies.h"
#include "resources/asking.h"
#include "resources/resources.h"
#include "units/parse.h"

namespace pitwright::resources {
namespace {

using http::Body;
using http::json_reply;
using http::trouble;

constexpr std::size_t most_entries = 100;
constexpr std::size_t most_initials = 40;

/// Which key an entry says its one thing in; empty: no such entry.
std::string_view key_of(std::string_view what) {
  if (what == "reading") return "temperature";
  if (what == "take back") return "why";
  if (what == "action" || what == "rule") return "text";
  return {};
}

/// A number that the book gave an entry.
std::optional<int> entry_number(Body& body, std::string_view key) {
  const auto number = body.number(key);
  constexpr double most = 1e6;
  if (!number) return std::nullopt;
  if (*number >= 1 && *number <= most && *number == std::floor(*number))
    return static_cast<int>(*number);
  body.wrong(key, "expected the number of an entry");
  return std::nullopt;
}

bool is_id(std::string_view text) {
  return !text.empty() && std::ranges::all_of(text, [](unsigned char c) {
    return std::isalnum(c) != 0 || c == '_' || c == '-';
  });
}

/// Whose entry it is: the initials given, and the name that the server knows the visitor by.
std::string signed_by(const std::string& initials, const std::string& visitor) {
  return initials + " (" + visitor + ")";
}

Result<book::Writing> read_entry(Body body, const std::string& visitor) {
  constexpr std::size_t most_text = 2000;
  for (const char* key : {"id", "what", "by"}) body.require(key);
  book::Writing writing;
  writing.id = body.text("id", 64).value_or("");
  if (!is_id(writing.id)) body.wrong("id", "expected 1 to 64 letters, digits, - or _");
  const auto what = body.text("what").value_or("");
  if (key_of(what).empty() && what != "signature")
    body.wrong("what", "expected reading, rule, action, signature or take back");
  const auto initials = body.text("by", most_initials).value_or("");
  if (initials.find_first_not_of(' ') == std::string::npos)
    body.wrong("by", "is empty: whose entry is it?");
  writing.by = signed_by(initials, visitor);
  writing.at = body.stamp("at");
  writing.piece = body.text("piece").value_or("");
  const auto text = body.text("text", most_text).value_or("");
  const auto temperature = body.text("temperature").value_or("");
  writing.corrects = entry_number(body, "corrects");
  writing.take_back = entry_number(body, "of");
  writing.why = body.text("why", most_text).value_or("");
  if (const auto key = key_of(what); !key.empty()) body.require(key);
  if (what == "take back")
    body.require("of");
  else if (writing.take_back)
    body.wrong("of", "goes with \"take back\" only");
  if ((what == "reading" || what == "rule")) body.require("piece");
  if (what == "reading") {
    const auto read = parse_temperature(temperature, std::nullopt);
    if (read)
      writing.reading = *read;
    else
      body.wrong("temperature", "expected a temperature with its unit, such as \"38 F\"");
  }
  if (what == "action")
    writing.action = text;
  else if (what == "rule")
    writing.rule = text;
  else
    writing.text = text;
  if (what == "signature") writing.sign = writing.by;
  if (auto finished = body.finish(); !finished) return std::unexpected(finished.error());
  if (writing.is_empty()) return fail(ErrorKind::bad_input, "text is empty: what is to be kept?");
  return writing;
}

Result<std::vector<book::Writing>> read_entries(const Asked& asked) {
  auto bodies = Body::list(asked.request.body, most_entries);
  if (!bodies) return std::unexpected(bodies.error());
  std::vector<book::Writing> writings;
  for (auto& body : *bodies) {
    auto writing = read_entry(std::move(body), asked.visitor.name);
    if (!writing) return std::unexpected(writing.error());
    writings.push_back(std::move(*writing));
  }
  return writings;
}

/// A burn that has food in it, and its number in the store.
struct WithFood {
  burns::OpenBurn open;
  db::BurnId id{};
  Scale scale = Scale::fahrenheit;
};

/// Fails: not_found where there is no burn or no piece of food in it; bad_input for the unit.
Result<WithFood> burn_with_food(const Asked& asked) {
  const auto standing = asked_burn(asked);
  if (!standing) return std::unexpected(standing.error());
  const auto& line = standing->line;
  const auto scale = asked_scale(asked, line.scale);
  if (!scale) return std::unexpected(scale.error());
  if (standing->burn->pieces.empty())
    return fail(ErrorKind::not_found, "no piece of food is told of in '{}'", line.name);
  WithFood found{{*standing->burn, "store:" + line.name, {}, {}}, line.id, *scale};
  if (found.open.burn.title.empty()) found.open.burn.title = line.name;
  return found;
}

Result<std::string> book_document(const Asked& asked, const WithFood& burn) {
  const auto told = book::told_of(asked.desk.store, burn.id);
  if (!told) return std::unexpected(told.error());
  const auto made = book::make_book(burn.open, *told, burn.scale);
  if (!made) return std::unexpected(made.error());
  return book::book_json(*made);
}

wire::Answer book_reply(const Asked& asked, const WithFood& burn) {
  auto document = book_document(asked, burn);
  if (!document) return trouble(document.error());
  return json_reply(std::move(*document));
}

}  // namespace

wire::Answer get_book(const Asked& asked) {
  const auto burn = burn_with_food(asked);
  if (!burn) return trouble(burn.error());
  return book_reply(asked, *burn);
}

wire::Answer post_book(const Asked& asked) {
  const auto writings = read_entries(asked);
  if (!writings) return trouble(writings.error());
  const auto burn = burn_with_food(asked);
  if (!burn) return trouble(burn.error());
  // Nobody signs what cannot be shown.
  if (const auto before = book_document(asked, *burn); !before) return trouble(before.error());
  std::vector<std::string> names;
  for (const auto& piece : burn->open.burn.pieces) names.push_back(piece.name);
  if (const auto written =
          book::write_entries(asked.desk.store, burn->id, *writings, names, asked.desk.now());
      !written)
    return trouble(written.error());
  return book_reply(asked, *burn);
}

wire::Answer get_rules(const Asked&) {
  return json_reply(book::rules_json());
}

}  // namespace pitwright::resources
