#pragma once

#include <string>

#include "base/result.h"
#include "burns/open_burn.h"
#include "units/temperature.h"

namespace pitwright::cli {

/// The scale asked for, else the burn's own. Fails: bad_input; a page in kelvins is not offered.
Result<Scale> scale_of(const std::string& asked, Scale own);

/// A burn without a title goes by the name of its directory.
void name_burn(burns::OpenBurn& open);

}  // namespace pitwright::cli
