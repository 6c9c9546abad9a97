#pragma once
#include <condition_variable>
#include <mutex>
#include <string>
#include <thread>

namespace boardring::cli {

/// While it lives, a line on standard error after a second, and every five from then on: somebody is watching and nothing else moves.
/// Silent where standard error is no terminal. Every step of a command that may take over a second has one.
class StillWorking {
public:
    explicit StillWorking(std::string on);
    ~StillWorking();
    StillWorking(const StillWorking&) = delete;
    StillWorking& operator=(const StillWorking&) = delete;

private:
    void watch();
    std::string on_;
    std::mutex mutex_;
    std::condition_variable woken_;
    bool done_ = false;
    std::thread watcher_;
};

}  // namespace boardring::cli
