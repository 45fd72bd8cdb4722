#pragma once

#include <string>

#include "sheet/sheet_view.h"

namespace pitwright::sheet {

/// The readings as one CSV table.
struct ReadingsTable {
  std::string csv;      ///< UTF-8, lines end in "\n", first line the names with their unit
  double step_s = 0.0;  ///< one row a step
  int rows = 0;
  bool thinned = false;  ///< whether readings were left out
};

/// Every probe's readings as logged (no correction), one row a step of 10 s or of the longer step
/// that keeps the table below some 60,000 cells. A cell holds the first reading within its step.
/// Columns that mean the same channel are one. Temperatures in the page's scale.
ReadingsTable readings_of(const SheetView& view);

/// A text as a CSV cell: quoted where it must be, and never one that a spreadsheet would run as a
/// formula.
std::string csv_cell(const std::string& text);

}  // namespace pitwright::sheet
