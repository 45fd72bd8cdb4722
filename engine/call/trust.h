#pragma once

#include "call/assemble.h"

namespace pitwright::call {

/// Looks for what could spoil a comparison and turns the words of the questions it spoils into
/// "muddled", adding the trouble that says why. Values and ranges stay. Checks, each rare without
/// its trouble:
///   not soaked    a stint that was still warming up takes part;
///   weather       outside air or wind differ between the settings by a material amount and by most
///                 of what the weather did at all;
///   one stint     without one stretch the word is another, by more than the model's errors
///   explain; halves        first and second half of the burn disagree likewise; one probe     the
///   level's word rests on a probe that is out of line with all others; touching      the runs of a
///   spot whose probe touches metal or jumped; spoiled       a setting has no counted stint because
///   its stints were spoiled;
///   one-sided lid a question in which spots that came back slowly weigh, where nothing else of a
///   setting is left for it.
/// Says "weather" where a front passed that the order set off, and
/// says "order" where settings follow one another once; that alone muddles nothing.
void apply_trust(const Burn& burn, const Evidence& evidence, Report& report);

}  // namespace pitwright::call
