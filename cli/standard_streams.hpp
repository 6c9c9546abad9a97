#pragma once

namespace boardring::cli {

/// Called first. A reader that closes early (`boardring plan x | head`) ends the program quietly; a limit on the size of files makes
/// writing fail, which is told, instead of ending the program half-way; and a stream that was closed before we started stays
/// unusable: no file of ours may be opened in its place and have the page written into it.
void prepare_streams();

/// Whether standard output or standard error has refused what was written to it.
bool stream_failed();

/// Called last: writes out what is still held back. The exit code given, or 2 after telling why where the output could not be written:
/// a page that never arrived on a full disk is no success. `error`: errno of a write that has failed already.
int finish_streams(int exit_code, int error = 0);

}  // namespace boardring::cli
