#include "burns/open_burn.h"

#include <utility>

#include "burns/assemble.h"
#include "burns/read_document.h"

namespace pitwright::burns {

Result<OpenBurn> open_burn(const std::filesystem::path& path) {
  const auto document_file = document_path(path);
  if (!document_file) return std::unexpected(document_file.error());
  const auto document = documents::read_burn(*document_file);
  if (!document) return std::unexpected(document.error());
  auto logs = read_logs(*document);
  if (!logs) return std::unexpected(logs.error());
  auto made = assemble(*document, *logs);
  if (!made) return std::unexpected(made.error());
  return OpenBurn{std::move(made->burn), *document_file, *std::move(logs),
                  std::move(made->assumed)};
}

}  // namespace pitwright::burns
