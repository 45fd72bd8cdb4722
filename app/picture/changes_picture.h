#pragma once

#include <string>

#include "picture/page.h"
#include "report/call_view.h"

namespace pitwright::picture {

/// What each change of setting did, as a dot with its ranges: the whole chamber, where the heat
/// lies, every spot; all pairs of settings on one scale, what is too small to act on shaded, the
/// word at the end of the line.
Picture draw_changes(const report::CallView& view, Page page, const std::string& id = "changes",
                     Head head = Head::told);

}  // namespace pitwright::picture
