#include "app/job_routes.hpp"

#include <algorithm>
#include <charconv>
#include <thread>

#include "app/answers.hpp"
#include "app/compression.hpp"
#include "io/job_questions.hpp"
#include "io/zones_parameters.hpp"

namespace beetwright::app {
namespace {

using http::Method;
using http::PathValues;
using http::Request;
using http::Response;

constexpr std::size_t kMostDraws = 1'000'000;

/// Wants nothing done: a question that comes this far is in order.
class OnlyLooking final : public Progress {
 public:
    bool go_on(double /*share*/) override {
        is_in_order_ = true;
        return false;
    }
    [[nodiscard]] bool is_in_order() const { return is_in_order_; }

 private:
    bool is_in_order_ = false;
};

class JobRoutes {
 public:
    JobRoutes(SeasonKeeper& keeper, Jobs& jobs, std::size_t most_bytes, Grounds* grounds)
        : keeper_(keeper), jobs_(jobs), most_bytes_(most_bytes), grounds_(grounds) {}

    [[nodiscard]] Response start(const Request& request, const Person& person) const {
        auto wish = io::read_job_wish(request.body);
        if (!wish) {
            return refused(wish.problems());
        }
        const auto snapshot = keeper_.season();
        if (!snapshot) {
            return refused(snapshot.problems());
        }
        // Whoever asks in vain is told at once, not by a job that fails.
        OnlyLooking looking;
        const auto looked = answer(**snapshot, *wish, looking);
        if (!looked && !looking.is_in_order()) {
            return refused(looked.problems());
        }
        const auto question = wish->question;
        const auto started = jobs_.start(
            question,
            [season = *snapshot, wish = std::move(*wish), routes = *this](Progress& progress) {
                return routes.answer(*season, wish, progress);
            },
            person);
        if (!started) {
            const bool is_too_many = started.problems().front().kind == ProblemKind::limit;
            return is_too_many ? refused(started.problems(), 429) : refused(started.problems());
        }
        auto response = json(io::job_json(*started), 202);
        response.headers.emplace_back("Location", "/api/v1/jobs/" + started->id.text());
        return response;
    }

    [[nodiscard]] Response look(const Uuid& id, const Person& person) const {
        const auto job = jobs_.look(id, person);
        return job ? json(io::job_json(*job)) : refused(job.problems());
    }
    [[nodiscard]] Response result(const Request& request, const Uuid& id,
                                  const Person& person) const {
        auto answer = jobs_.result(id, person);
        if (!answer) {
            return refused(answer.problems());
        }
        return compressed(answer->form == io::AnswerForm::page ? page(std::move(answer->body))
                                                               : json(std::move(answer->body)),
                          request);
    }
    [[nodiscard]] Response cancel(const Uuid& id, const Person& person) const {
        const auto cancelled = jobs_.cancel(id, person);
        return cancelled ? json("{}\n") : refused(cancelled.problems());
    }
    [[nodiscard]] Response events(const Request& request, const Uuid& id,
                                  const Person& person) const {
        // A browser that lost the connection says what it has heard.
        const auto heard = request.header("last-event-id");
        std::uint64_t seen = 0;
        std::from_chars(heard.data(), heard.data() + heard.size(), seen);
        const auto job = jobs_.look(id, person);
        if (job && io::is_over(job->state) && seen >= io::event_number(*job)) {
            // Tells a browser not to ask again, which it would whenever a stream ends.
            return {.status = 204, .body = "", .headers = {{"Cache-Control", "no-store"}}};
        }
        auto stream = jobs_.events(id, person, seen);
        if (!stream) {
            return refused(stream.problems());
        }
        return {.status = 200,
                .type = "text/event-stream",
                .body = "",
                // The last tells nginx to pass each event on as it comes.
                .headers = {{"Cache-Control", "no-store"}, {"X-Accel-Buffering", "no"}},
                .stream = std::move(*stream)};
    }

 private:
    [[nodiscard]] Result<io::QuestionAnswer> answer(const Snapshot& season, const io::JobWish& wish,
                                                    Progress& progress) const {
        if (wish.question == io::kZonesQuestion.name) {
            return zones(season, wish, progress);
        }
        const auto always_long = io::job_questions();
        if (std::ranges::find(always_long, wish.question, &io::QuestionInfo::name) !=
            always_long.end()) {
            return io::answer_job_question(season.season, wish.question, wish.parameters,
                                           std::max(1U, std::thread::hardware_concurrency()),
                                           &progress);
        }
        return io::answer_question(
            season.season, wish.question, wish.parameters,
            {.most_draws = kMostDraws, .most_bytes = most_bytes_, .progress = &progress});
    }

    [[nodiscard]] Result<io::QuestionAnswer> zones(const Snapshot& season, const io::JobWish& wish,
                                                   Progress& progress) const {
        if (grounds_ == nullptr) {
            return Problem{ProblemKind::missing,
                           {.file = "", .line = 0, .field = "question"},
                           "nothing is kept of fields' ground here",
                           "ask `beetwright zones` with the field's log"};
        }
        auto answer = grounds_->zones(season.season, wish.parameters, progress);
        if (!answer) {
            return answer.problems();
        }
        return io::QuestionAnswer{io::AnswerForm::json, std::move(*answer)};
    }

    SeasonKeeper& keeper_;
    Jobs& jobs_;
    std::size_t most_bytes_;
    Grounds* grounds_;
};

/// What is no id is no job's.
Uuid id_in(const PathValues& values) {
    return Uuid::parse(values.at("id")).value_or(Uuid());
}

}  // namespace

void add_job_routes(Access& access, SeasonKeeper& keeper, Jobs& jobs, std::size_t most_bytes,
                    Grounds* grounds) {
    const JobRoutes routes(keeper, jobs, most_bytes, grounds);
    access.add(Method::post, "/api/v1/jobs", Needs::viewer,
               [=](const Request& request, const PathValues&, const Person* person) {
                   return routes.start(request, *person);
               });
    access.add(Method::get, "/api/v1/jobs/{id}", Needs::viewer,
               [=](const Request&, const PathValues& values, const Person* person) {
                   return routes.look(id_in(values), *person);
               });
    access.add(Method::get, "/api/v1/jobs/{id}/result", Needs::viewer,
               [=](const Request& request, const PathValues& values, const Person* person) {
                   return routes.result(request, id_in(values), *person);
               });
    access.add(Method::remove, "/api/v1/jobs/{id}", Needs::viewer,
               [=](const Request&, const PathValues& values, const Person* person) {
                   return routes.cancel(id_in(values), *person);
               });
    access.add(Method::get, "/api/v1/jobs/{id}/events", Needs::viewer,
               [=](const Request& request, const PathValues& values, const Person* person) {
                   return routes.events(request, id_in(values), *person);
               });
}

}  // namespace beetwright::app
