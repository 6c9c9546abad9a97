#pragma once
#include <optional>
#include <utility>

#include "base/ensure.hpp"
#include "base/finding.hpp"

namespace boardring {

/// A value, with whatever findings came up on the way (warnings allowed), or no value and at least one error.
template <class T>
class Result {
public:
    Result(T value, Findings findings = {}) : value_(std::move(value)), findings_(std::move(findings)) {}
    Result(Findings errors) : findings_(std::move(errors)) { ENSURE(has_error(findings_)); }
    Result(Finding error) : findings_{std::move(error)} { ENSURE(has_error(findings_)); }

    [[nodiscard]] bool ok() const { return value_.has_value(); }
    [[nodiscard]] const T& value() const& { ENSURE(ok()); return *value_; }
    [[nodiscard]] T&& value() && { ENSURE(ok()); return std::move(*value_); }
    [[nodiscard]] const Findings& findings() const& { return findings_; }
    /// From a result that is about to go, by value: a reference into it would dangle in a range-for.
    [[nodiscard]] Findings findings() && { return std::move(findings_); }

private:
    std::optional<T> value_;
    Findings findings_;
};

}  // namespace boardring
