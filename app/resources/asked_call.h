#pragma once

#include <memory>

#include "report/call_view.h"
#include "resources/asking.h"

namespace pitwright::resources {

/// A burn, the scale and the call that a request asks for.
struct AskedCall {
  Standing standing;
  Scale scale;
  std::shared_ptr<const live::WorkedCall> call;

  /// Pre: call->made.
  report::CallView view() const { return {*call->made, *call->burn, scale}; }
};

/// Fails: not_found, bad_input; a call that cannot be made is in `call->made`.
Result<AskedCall> worked_call(const Asked& asked);

}  // namespace pitwright::resources
