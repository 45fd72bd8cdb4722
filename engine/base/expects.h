#pragma once

#include <source_location>
#include <stdexcept>

namespace pitwright {

/// A broken promise between two pieces of our own code: a bug, never a bad input.
struct ContractError : std::logic_error {
  using std::logic_error::logic_error;
};

/// States a precondition. Always on; throws ContractError naming the function and line.
void expects(bool holds, std::source_location where = std::source_location::current());

}  // namespace pitwright
