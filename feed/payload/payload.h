#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "payload/payload_spec.h"
#include "payload/stamp_reader.h"
#include "readings/reading.h"
#include "readings/troubles.h"

namespace pitwright::feed {

/// The longest payload that is looked at [bytes].
inline constexpr std::size_t longest_payload = std::size_t{1} << 20;

/// Reads payloads of one kind from one source. What cannot be read costs that cell, record or
/// payload and is said once; nothing throws, whatever the bytes are.
class PayloadReader {
 public:
  /// `source` names it in troubles.
  /// Fails: bad_input for an unknown time zone.
  static Result<PayloadReader> make(const PayloadSpec& spec, std::string source,
                                    Troubles& troubles);

  /// Adds the readings of a payload to `out`. `topic` names a plain number's channel (levels parted
  /// by '/'); `arrival` is the stamp of what has none.
  /// How many readings were added.
  std::size_t read(std::string_view payload, std::string_view topic, Moment arrival,
                   std::vector<Reading>& out);

 private:
  friend class JsonPayload;
  PayloadReader(PayloadSpec spec, StampReader stamps, std::string source, Troubles& troubles)
      : spec_(std::move(spec)),
        stamps_(std::move(stamps)),
        source_(std::move(source)),
        troubles_(&troubles) {}

  bool number(std::string_view text, std::string_view topic, Moment arrival,
              std::vector<Reading>& out);
  bool json(std::string_view text, std::string_view topic, Moment arrival,
            std::vector<Reading>& out);
  bool cells(std::string_view line, Moment arrival, std::vector<Reading>& out);
  void add(std::string channel, double value, logs::ChannelUnit unit, Moment at, bool stamped,
           std::vector<Reading>& out);
  void refuse(std::string_view kind, std::string_view what);

  PayloadSpec spec_;
  StampReader stamps_;
  std::string source_;
  Troubles* troubles_;
};

/// The value in the store's unit: degC, km/h, or as it is; nullopt for what no sensor shows
/// (infinite, below absolute zero, above 3000 degC).
std::optional<double> stored_value(double value, logs::ChannelUnit unit);

/// Fills {topic} and {1}, {2} ... (levels of the topic) into a channel's name.
std::string filled(std::string_view name, std::string_view topic);

}  // namespace pitwright::feed
