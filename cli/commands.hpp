#pragma once
#include "arguments.hpp"

namespace boardring::cli {

// One command each; returns the exit code. Results go to standard output, talk to standard error.
int run_plan(const Arguments& arguments);
int run_check(const Arguments& arguments);
int run_new(const Arguments& arguments);
int run_joint(const Arguments& arguments);
int run_papers(const Arguments& arguments);
int run_buy(const Arguments& arguments);
int run_change(const Arguments& arguments);
int run_refit(const Arguments& arguments);
int run_closure(const Arguments& arguments);
int run_explain(const Arguments& arguments);
int run_describe(const Arguments& arguments);

}  // namespace boardring::cli
