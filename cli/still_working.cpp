#include "still_working.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <chrono>
#include <cstdio>
#include <utility>

namespace boardring::cli {

StillWorking::StillWorking(std::string on) : on_(std::move(on)) {
    if (isatty(STDERR_FILENO) != 0) watcher_ = std::thread([this] { watch(); });
}

StillWorking::~StillWorking() {
    if (!watcher_.joinable()) return;
    {
        const std::lock_guard<std::mutex> lock(mutex_);
        done_ = true;
    }
    woken_.notify_one();
    watcher_.join();
}

void StillWorking::watch() {
    constexpr int kFirst_s = 1, kThen_s = 5;
    std::unique_lock<std::mutex> lock(mutex_);
    for (int seconds = kFirst_s;; seconds += kThen_s) {
        if (woken_.wait_for(lock, std::chrono::seconds(seconds == kFirst_s ? kFirst_s : kThen_s), [this] { return done_; })) return;
        fmt::print(stderr, "working on {}: {} s\n", on_, seconds);
    }
}

}  // namespace boardring::cli
