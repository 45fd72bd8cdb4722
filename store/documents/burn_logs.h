#pragma once

#include "documents/burn_document.h"
#include "documents/table_reader.h"

namespace pitwright::documents {

/// Reads `logs` and every [[log]] of a burn into `document`. The burn's time zone is known by then.
void read_log_specs(Reading& reading, TableReader& root, BurnDocument& document);

}  // namespace pitwright::documents
