#pragma once

#include <string>
#include <vector>

#include "documents/rollcall_document.h"
#include "thermometer/roll_call.h"

namespace pitwright::rollcall {

/// What the pages of a roll call are made from.
struct RollCallView {
  const documents::RollCallDocument& document;
  const thermometer::RollCall& called;
  Scale scale;  ///< of the page
};

/// The roll call in a breath.
std::string sentence(const RollCallView& view);

/// Why a thermometer got its verdict, as a sentence; empty where there is nothing to add.
std::string why_text(const RollCallView& view, const thermometer::Checked& probe);

/// The lines for its [[probe]] in burn.toml, each without its end; empty where there is no
/// correction.
std::vector<std::string> paste_lines(const RollCallView& view, const thermometer::Checked& probe);

/// "rollcall.toml", without its folder.
std::string file_name(const RollCallView& view);

/// "2026-04-30"; empty where no date is given.
std::string date_text(const std::optional<std::chrono::year_month_day>& date);

/// The page for people.
std::string roll_call_text(const RollCallView& view);

/// The same as one JSON document (docs/reference/rollcall.schema.json).
std::string roll_call_json(const RollCallView& view);

}  // namespace pitwright::rollcall
