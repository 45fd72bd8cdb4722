#include "numeric/parallel.h"

#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>

namespace pitwright::numeric {

void parallel_for(int count, const std::function<void(int)>& work) {
  // One index a task: what is done here are few large pieces.
  tbb::parallel_for(
      tbb::blocked_range<int>(0, count, 1),
      [&](const tbb::blocked_range<int>& some) {
        for (int i = some.begin(); i < some.end(); ++i) work(i);
      },
      tbb::simple_partitioner());
}

}  // namespace pitwright::numeric
