#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace pitwright::sheet {

/// An element with text: `<name attributes>escaped text</name>\n`. `attributes` is markup of our
/// own and must hold nothing a person wrote.
std::string element(std::string_view name, std::string_view attributes, std::string_view text);

/// The same around markup.
std::string wrap(std::string_view name, std::string_view attributes, std::string_view markup);

/// `<ul>` of texts.
std::string list_of(const std::vector<std::string>& texts);

/// A string as a JSON literal that may stand inside a script element: no "<" is left in it.
std::string script_string(std::string_view text);

}  // namespace pitwright::sheet
