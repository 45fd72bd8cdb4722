#pragma once

#include <string>

#include "call/report.h"
#include "pit/burn.h"

namespace pitwright::report {

/// What went wrong, as a clause that can follow "muddled: " ("the outside air fell 17° while the
/// settings changed"); differences in `scale`, wind in mph beside °F and km/h beside °C.
std::string trouble_reason(const call::Trouble& trouble, const Burn& burn, Scale scale);

/// What would mend it, as a sentence without its stop ("Swap that probe with a neighbor and repeat
/// both settings"); empty where nothing needs doing.
std::string trouble_mend(const call::Trouble& trouble);

/// Both as sentences, for a line of the page and for JSON.
std::string trouble_text(const call::Trouble& trouble, const Burn& burn, Scale scale);

/// The clause with its first letter raised and a stop at the end.
std::string as_sentence(std::string clause);

}  // namespace pitwright::report
