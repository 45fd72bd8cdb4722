#include "payload/pointer.h"

#include <charconv>

#include <nlohmann/json.hpp>

namespace pitwright::feed {
namespace {

using nlohmann::json;

std::unexpected<Error> wrong_at(std::string_view text, std::size_t at, std::string_view what) {
  return fail(ErrorKind::bad_input, "\"{}\": {} at letter {}", text, what, at + 1);
}

/// RFC 6901 section 4: an index is 0, or digits without a leading zero.
std::optional<std::size_t> array_index(std::string_view token) {
  if (token.empty() || (token.size() > 1 && token.front() == '0')) return std::nullopt;
  std::size_t index = 0;
  const auto [end, error] = std::from_chars(token.data(), token.data() + token.size(), index);
  if (error != std::errc() || end != token.data() + token.size()) return std::nullopt;
  return index;
}

bool is_name_letter(char c) {
  const auto u = static_cast<unsigned char>(c);
  return (u >= '0' && u <= '9') || (u >= 'a' && u <= 'z') || (u >= 'A' && u <= 'Z') || u == '_' ||
         u >= 0x80;
}

}  // namespace

Result<std::vector<Selector::Step>> Selector::pointer_steps(std::string_view text) {
  std::vector<Step> steps;
  if (text.empty()) return steps;
  if (text.front() != '/') {
    return wrong_at(text, 0,
                    "a place in JSON starts with '/' (\"/temp\") or '$' (\"$.temp\"); not");
  }
  std::string token;
  for (std::size_t i = 1; i <= text.size(); ++i) {
    if (i == text.size() || text[i] == '/') {
      steps.emplace_back(Token{std::exchange(token, {})});
    } else if (text[i] == '~') {
      const char next = i + 1 < text.size() ? text[i + 1] : ' ';
      if (next != '0' && next != '1') return wrong_at(text, i, "'~' must be '~0' or '~1'; not");
      token += next == '0' ? '~' : '/';
      ++i;
    } else {
      token += text[i];
    }
  }
  return steps;
}

Result<std::vector<Selector::Step>> Selector::path_steps(std::string_view text) {
  std::vector<Step> steps;
  std::size_t i = 1;
  while (i < text.size()) {
    if (text[i] == '.') {
      ++i;
      if (i < text.size() && text[i] == '*') {
        steps.emplace_back(Every{});
        ++i;
        continue;
      }
      const auto from = i;
      while (i < text.size() && is_name_letter(text[i])) ++i;
      const auto name = text.substr(from, i - from);
      if (name.empty() || (name.front() >= '0' && name.front() <= '9')) {
        return wrong_at(text, from,
                        "a member's name is expected, as in \"$.temp\" or \"$['T 1']\",");
      }
      steps.emplace_back(std::string(name));
      continue;
    }
    if (text[i] != '[') return wrong_at(text, i, "'.' or '[' is expected");
    ++i;
    const char open = i < text.size() ? text[i] : ' ';
    if (open == '*') {
      steps.emplace_back(Every{});
      ++i;
    } else if (open == '\'' || open == '"') {
      std::string name;
      for (++i; i < text.size() && text[i] != open; ++i) {
        if (text[i] == '\\' && i + 1 < text.size()) ++i;
        name += text[i];
      }
      if (i >= text.size()) return wrong_at(text, i, "the quote is not closed,");
      steps.emplace_back(std::move(name));
      ++i;
    } else {
      long long index = 0;
      const auto [end, error] = std::from_chars(text.data() + i, text.data() + text.size(), index);
      if (error != std::errc()) {
        return wrong_at(text, i, "an index, '*' or a name in quotes is expected");
      }
      steps.emplace_back(index);
      i = static_cast<std::size_t>(end - text.data());
    }
    if (i >= text.size() || text[i] != ']') return wrong_at(text, i, "']' is expected");
    ++i;
  }
  return steps;
}

Result<Selector> Selector::parse(std::string_view text) {
  auto steps = text.starts_with('$') ? path_steps(text) : pointer_steps(text);
  if (!steps) return std::unexpected(steps.error());
  Selector selector;
  selector.text_ = text;
  selector.steps_ = std::move(*steps);
  return selector;
}

void Selector::take(const Step& step, const json& from, std::vector<const json*>& to) {
  const auto member = [&](const std::string& name) {
    if (!from.is_object()) return;
    if (const auto found = from.find(name); found != from.end()) to.push_back(&*found);
  };
  const auto element = [&](std::size_t index) {
    if (from.is_array() && index < from.size()) to.push_back(&from[index]);
  };
  if (std::holds_alternative<Every>(step)) {
    if (from.is_structured()) {
      for (const auto& value : from) to.push_back(&value);
    }
  } else if (const auto* token = std::get_if<Token>(&step)) {
    if (const auto index = array_index(token->text); from.is_array() && index) element(*index);
    member(token->text);
  } else if (const auto* name = std::get_if<std::string>(&step)) {
    member(*name);
  } else {
    auto index = std::get<long long>(step);
    if (index < 0 && from.is_array()) index += static_cast<long long>(from.size());
    if (index >= 0) element(static_cast<std::size_t>(index));
  }
}

std::vector<const json*> Selector::all(const json& document) const {
  std::vector<const json*> at{&document};
  for (const auto& step : steps_) {
    std::vector<const json*> next;
    for (const auto* value : at) take(step, *value, next);
    at = std::move(next);
  }
  return at;
}

const json* Selector::first(const json& document) const {
  if (many()) {
    const auto found = all(document);
    return found.empty() ? nullptr : found.front();
  }
  std::vector<const json*> at;
  const auto* here = &document;
  for (const auto& step : steps_) {
    at.clear();
    take(step, *here, at);
    if (at.empty()) return nullptr;
    here = at.front();
  }
  return here;
}

bool Selector::many() const {
  for (const auto& step : steps_) {
    if (std::holds_alternative<Every>(step)) return true;
  }
  return false;
}

std::string Selector::first_name() const {
  if (steps_.empty()) return {};
  if (const auto* token = std::get_if<Token>(&steps_.front())) return token->text;
  if (const auto* name = std::get_if<std::string>(&steps_.front())) return *name;
  return {};
}

}  // namespace pitwright::feed
