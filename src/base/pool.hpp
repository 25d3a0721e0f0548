// A pool of worker threads whose answers do not depend on how many there are.
//
// Work is cut into chunks of a fixed size, whatever the number of threads; a sum adds the chunks'
// partial sums in the order of the chunks. So one thread and eight give the same bits.
#pragma once

#include <cstddef>
#include <functional>
#include <memory>
#include <span>

namespace beetwright {

class WorkerPool {
 public:
    /// threads >= 1. One means: work is done by the caller, no thread is started.
    explicit WorkerPool(unsigned threads);
    ~WorkerPool();
    WorkerPool(const WorkerPool&) = delete;
    WorkerPool& operator=(const WorkerPool&) = delete;

    [[nodiscard]] unsigned threads() const;

    /// Calls work(first, last) for consecutive chunks that cover [0, count), each at most
    /// `chunk` long, and waits for all of them. Calls may run at once; they must not touch the same
    /// data. Not re-entrant: work may not call the same pool.
    void for_chunks(std::size_t count, std::size_t chunk,
                    const std::function<void(std::size_t first, std::size_t last)>& work);

 private:
    struct Shared;
    std::unique_ptr<Shared> shared_;
};

/// The sum of the values, with chunks of 4096 added in order: the same bits for any number of
/// threads.
double ordered_sum(WorkerPool& pool, std::span<const double> values);

}  // namespace beetwright
