#pragma once

#include <optional>
#include <string>
#include <vector>

#include "logs/log.h"
#include "payload/pointer.h"

namespace pitwright::feed {

/// How the bytes of a message are written.
enum class PayloadKind {
  automatic,  ///< a number, else JSON, else a line of cells
  number,     ///< "225.4", "107 C"
  json,       ///< one document, or one a line
  csv         ///< lines of cells whose columns are told
};

/// A channel and where its value stands.
struct ChannelPlace {
  std::string name;
  Selector at;
};

/// What a person told of a source's payloads. Everything left empty is worked out.
struct PayloadSpec {
  PayloadKind kind = PayloadKind::automatic;
  std::string channel{};                 ///< of a plain number: a name, may hold {2}, {topic}
  std::optional<Selector> each{};        ///< the records in a document
  std::optional<Selector> time{};        ///< in a record, else in the document
  std::optional<Selector> name{};        ///< of the channel, in a record of one reading
  std::optional<Selector> value{};       ///< beside `name`
  std::vector<ChannelPlace> channels{};  ///< places of channels in a record
  std::vector<std::string> columns{};    ///< of a csv line; "time" is its time, "-" is passed over
  logs::ChannelUnit unit = logs::ChannelUnit::unknown;  ///< unless the payload says another
  std::string timezone{};                               ///< of stamps without an offset; empty: UTC
};

}  // namespace pitwright::feed
