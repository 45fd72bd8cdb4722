#include "safety/rules.h"

#include <algorithm>

namespace pitwright::safety {
namespace {

/// Letters and digits that tell names apart: "Chicken 12%" and "chicken 12 %" are one.
std::string bare(std::string_view name) {
  std::string out;
  for (const char c : name) {
    const bool plain = (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || c == '.';
    if (plain) out += c;
    if (c >= 'A' && c <= 'Z') out += static_cast<char>(c - 'A' + 'a');
  }
  return out;
}

std::string trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t");
  if (first == text.npos) return {};
  return std::string(text.substr(first, text.find_last_not_of(" \t") - first + 1));
}

const Rule*& place_of(Chosen& chosen, RuleKind kind) {
  switch (kind) {
    case RuleKind::cooking:
      return chosen.cooking;
    case RuleKind::zone:
      return chosen.zone;
    case RuleKind::come_up:
      return chosen.come_up;
    case RuleKind::hold:
      return chosen.hold;
    case RuleKind::cooling:
      break;
  }
  return chosen.cooling;
}

}  // namespace

std::string_view name_of(RuleKind kind) {
  switch (kind) {
    case RuleKind::cooking:
      return "cooking";
    case RuleKind::zone:
      return "zone";
    case RuleKind::come_up:
      return "come-up";
    case RuleKind::hold:
      return "hold";
    case RuleKind::cooling:
      break;
  }
  return "cooling";
}

const Rule* find_rule(std::string_view name) {
  const auto wanted = bare(name);
  if (wanted.empty()) return nullptr;
  const auto& rules = all_rules();
  const auto found = std::ranges::find(rules, wanted, [](const Rule& r) { return bare(r.name); });
  return found == rules.end() ? nullptr : &*found;
}

Chosen chosen_rules(std::string_view text) {
  Chosen chosen;
  while (!text.empty()) {
    const auto end = std::min(text.find_first_of(",;"), text.size());
    const auto part = trimmed(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
    if (part.empty()) continue;
    const auto* rule = find_rule(part);
    if (rule == nullptr) {
      chosen.unknown.push_back(part);
      continue;
    }
    auto& place = place_of(chosen, rule->kind);
    if (place != nullptr && place != rule)
      chosen.twice.push_back(part);
    else
      place = rule;
  }
  return chosen;
}

}  // namespace pitwright::safety
