#pragma once

#include <string>

#include <CLI/CLI.hpp>

#include "base/result.h"
#include "logs/log.h"

namespace pitwright::cli {

/// What a person may say on the command line of logs that stand alone.
struct LogOptions {
  std::string unit, timezone, date, decimal;

  void declare(CLI::App& cmd);

  /// Fails: bad_input for a word that is none of those offered, or an unknown time zone.
  Result<logs::Hints> hints() const;
};

}  // namespace pitwright::cli
