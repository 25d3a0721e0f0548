// The worker pool where there are no threads: the caller does the work, chunk by chunk, in the
// order in which any number of threads would add them up.
#include <algorithm>
#include <vector>

#include "base/contract.hpp"
#include "base/pool.hpp"

namespace beetwright {

struct WorkerPool::Shared {};

WorkerPool::WorkerPool(unsigned threads) {
    require(threads == 1, "there is one thread here");
}

WorkerPool::~WorkerPool() = default;

unsigned WorkerPool::threads() const {
    return 1;
}

void WorkerPool::for_chunks(std::size_t count, std::size_t chunk,
                            const std::function<void(std::size_t, std::size_t)>& work) {
    require(chunk >= 1, "a chunk holds at least one item");
    for (std::size_t first = 0; first < count; first += chunk) {
        work(first, std::min(count, first + chunk));
    }
}

}  // namespace beetwright
