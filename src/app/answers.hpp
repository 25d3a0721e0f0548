// The answers that all routes give alike.
#pragma once

#include <string>

#include "base/result.hpp"
#include "http/message.hpp"

namespace beetwright::app {

http::Response json(std::string body, int status = 200);
http::Response page(std::string body);
/// The problems, under the status that fits the first.
http::Response refused(const Problems& problems);
http::Response refused(Problem problem);
http::Response refused(const Problems& problems, int status);

Problem wrong_parameter(const std::string& name, std::string what, std::string fix);
/// The problem with a parameter that nobody asks for, so that a misspelt one is not passed over.
Problem unknown_parameter(const std::string& name);

}  // namespace beetwright::app
