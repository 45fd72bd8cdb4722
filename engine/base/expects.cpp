#include "base/expects.h"

#include <fmt/format.h>

namespace pitwright {

void expects(bool holds, std::source_location where) {
  if (holds) return;
  throw ContractError(fmt::format("{}:{}: precondition of {} broken", where.file_name(),
                                  where.line(), where.function_name()));
}

}  // namespace pitwright
