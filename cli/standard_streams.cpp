#include "standard_streams.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstdio>
#include <system_error>

namespace boardring::cli {

void prepare_streams() {
    std::signal(SIGPIPE, SIG_DFL);
    std::signal(SIGXFSZ, SIG_IGN);
    for (const int descriptor : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
        if (::fcntl(descriptor, F_GETFD) != -1 || errno != EBADF) continue;
        // The wrong way round, so that using it fails as it would have. The lowest free number is the one missing.
        if (::open("/dev/null", descriptor == STDIN_FILENO ? O_WRONLY : O_RDONLY) < 0) return;
    }
}

bool stream_failed() { return std::ferror(stdout) != 0 || std::ferror(stderr) != 0; }

int finish_streams(int exit_code, int error) {
    if (std::fflush(stdout) != 0) error = errno;
    if (error == 0 && std::ferror(stdout) == 0) return exit_code;
    std::fprintf(stderr, "cannot write the output%s%s\n", error != 0 ? ": " : "",
                 error != 0 ? std::generic_category().message(error).c_str() : "");
    return 2;
}

}  // namespace boardring::cli
