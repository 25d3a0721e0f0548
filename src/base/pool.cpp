#include "base/pool.hpp"

#include <algorithm>
#include <condition_variable>
#include <mutex>
#include <thread>
#include <vector>

#include "base/contract.hpp"

namespace beetwright {

/// The job at hand. Workers take the next chunk's number under the lock; a chunk is long enough
/// work that the lock is not felt, and plain counters under a lock are easy to be sure of.
struct WorkerPool::Shared {
    std::mutex mutex;
    std::condition_variable work_waits;
    std::condition_variable job_done;
    const std::function<void(std::size_t, std::size_t)>* work = nullptr;
    std::size_t count = 0;
    std::size_t chunk = 1;
    std::size_t next = 0;     ///< first item not yet taken
    std::size_t running = 0;  ///< chunks taken and not finished
    bool stopping = false;
    std::vector<std::jthread> workers;

    /// Does one chunk with the lock released. The lock must be held, and a chunk must be left.
    void do_one(std::unique_lock<std::mutex>& lock) {
        const std::size_t first = next;
        next = std::min(count, first + chunk);
        const std::size_t last = next;
        ++running;
        lock.unlock();
        (*work)(first, last);
        lock.lock();
        --running;
        if (next == count && running == 0) {
            job_done.notify_all();
        }
    }

    void serve() {
        std::unique_lock lock(mutex);
        for (;;) {
            work_waits.wait(lock, [this] { return stopping || next < count; });
            if (stopping) {
                return;
            }
            do_one(lock);
        }
    }
};

WorkerPool::WorkerPool(unsigned threads) : shared_(std::make_unique<Shared>()) {
    require(threads >= 1, "a pool has at least one thread");
    // The caller works too.
    for (unsigned i = 1; i < threads; ++i) {
        shared_->workers.emplace_back([shared = shared_.get()] { shared->serve(); });
    }
}

WorkerPool::~WorkerPool() {
    {
        const std::lock_guard lock(shared_->mutex);
        shared_->stopping = true;
    }
    shared_->work_waits.notify_all();
    shared_->workers.clear();  // joins
}

unsigned WorkerPool::threads() const {
    return static_cast<unsigned>(shared_->workers.size()) + 1;
}

void WorkerPool::for_chunks(std::size_t count, std::size_t chunk,
                            const std::function<void(std::size_t, std::size_t)>& work) {
    require(chunk >= 1, "a chunk holds at least one item");
    std::unique_lock lock(shared_->mutex);
    require(shared_->next == shared_->count, "a pool does one job at a time");
    shared_->work = &work;
    shared_->chunk = chunk;
    shared_->next = 0;
    shared_->count = count;
    if (count > chunk) {
        shared_->work_waits.notify_all();
    }
    while (shared_->next < shared_->count) {
        shared_->do_one(lock);
    }
    shared_->job_done.wait(lock, [this] { return shared_->running == 0; });
    shared_->work = nullptr;
}

double ordered_sum(WorkerPool& pool, std::span<const double> values) {
    constexpr std::size_t kChunk = 4096;
    std::vector<double> partial((values.size() + kChunk - 1) / kChunk, 0.0);
    pool.for_chunks(values.size(), kChunk, [&](std::size_t first, std::size_t last) {
        double sum = 0.0;
        for (std::size_t i = first; i < last; ++i) {
            sum += values[i];
        }
        partial[first / kChunk] = sum;
    });
    double sum = 0.0;
    for (const double part : partial) {
        sum += part;
    }
    return sum;
}

}  // namespace beetwright
