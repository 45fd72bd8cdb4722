#pragma once

#include <functional>

namespace pitwright::numeric {

/// Calls work(i) for i in 0 .. count-1, on as many threads as there are processors, in no set
/// order. The one place where the engine uses threads. The result is the same as that of a plain
/// loop where work(i) writes only what belongs to i. An exception of any call is thrown again here.
void parallel_for(int count, const std::function<void(int)>& work);

}  // namespace pitwright::numeric
