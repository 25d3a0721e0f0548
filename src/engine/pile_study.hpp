// Everything about one pile that its questions share: what lies in it, the ways in which the
// weather may go, the members, and the courses of its parts under them.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/pool.hpp"
#include "base/progress.hpp"
#include "engine/pile_course.hpp"
#include "engine/schedule.hpp"
#include "ledger/model.hpp"
#include "worth/price.hpp"

namespace beetwright::engine {

struct StudyQuestion {
    std::string pile;
    std::optional<Instant> at = {};  ///< now; absent: as_of()
    /// The day to look ahead to; absent: that on which its last beets are to be sliced.
    std::optional<Day> until = {};
    std::size_t members = 16;  ///< 2 to 200
    Length cell{0.5};          ///< of a section; 0.2 to 1 m
};

/// Days at whose ends one part alone is pictured.
struct PicturedPart {
    std::size_t part = 0;
    std::span<const Day> days;
};

/// A part's beets, as all members have them.
struct PartFacts {
    std::vector<std::string> fields;
    Day sliced{};         ///< as the season says, of its beets by mass; not beyond the last day
    double haul_m = 0.0;  ///< mean
};

/// Every part in every member, under one deed.
class Courses {
 public:
    Courses(std::size_t parts, std::size_t members) : members_(members), all_(parts * members) {}
    [[nodiscard]] PartCourse& of(std::size_t part, std::size_t member) {
        return all_[part * members_ + member];
    }
    [[nodiscard]] const PartCourse& of(std::size_t part, std::size_t member) const {
        return all_[part * members_ + member];
    }

 private:
    std::size_t members_;
    std::vector<PartCourse> all_;
};

class PileStudy {
 public:
    /// `season` outlives it. Problems: those of pile_contents() and of the weather; a day before
    /// now, or more than 250 days after it; numbers out of bounds.
    static Result<std::unique_ptr<PileStudy>> make(const ledger::Season& season,
                                                   const StudyQuestion& question);

    [[nodiscard]] const ledger::Season& season() const { return season_; }
    [[nodiscard]] const Catalogue& catalogue() const { return *catalogue_; }
    [[nodiscard]] const PileContents& contents() const { return contents_; }
    [[nodiscard]] const std::vector<PilePart>& parts() const { return contents_.parts; }
    [[nodiscard]] const PartFacts& facts(std::size_t part) const { return facts_[part]; }
    [[nodiscard]] const CourseBasis& basis() const { return basis_; }
    [[nodiscard]] Instant now() const { return basis_.now; }
    [[nodiscard]] Day today() const;
    [[nodiscard]] Day until() const { return basis_.until; }
    [[nodiscard]] Day first_day(std::size_t part) const;
    [[nodiscard]] std::size_t member_count() const { return members_.size(); }
    [[nodiscard]] std::vector<PileMember>& members() { return members_; }
    [[nodiscard]] const std::vector<PileMember>& members() const { return members_; }
    [[nodiscard]] const std::vector<std::string>& assumptions() const { return assumptions_; }

    /// How many courses run() works out.
    [[nodiscard]] double runs() const {
        return static_cast<double>(parts().size() * members_.size());
    }
    /// With pictures of the parts on the days of `frames`, and of `pictured` on its own days
    /// instead. The same for any number of threads. Problems: those of part_course(); what is
    /// stopped is a Problem, too.
    [[nodiscard]] Result<Courses> run(
        const PileDeed& deed, WorkerPool& pool, Steps& steps, std::span<const Day> frames = {},
        const std::optional<PicturedPart>& pictured = std::nullopt) const;
    /// So many other members of it, as they are before anything was read in it.
    [[nodiscard]] std::vector<PileMember> new_members(std::size_t count) const;
    /// One part in one member, of those above or of others.
    [[nodiscard]] Result<PartCourse> course(const CourseBasis& basis,
                                            CourseQuestion question) const;
    /// A part's beets in a member, by layer.
    [[nodiscard]] std::vector<LayerBeet> beets(std::size_t part, const PileMember& member) const;
    /// One part's alone, with pictures of these days; the other parts' are empty.
    [[nodiscard]] Result<Courses> run_part(std::size_t part, const PileDeed& deed, WorkerPool& pool,
                                           Steps& steps, std::span<const Day> frames = {}) const;

    /// What a part's beets are paid for in a member if they are sliced on a day with so much of
    /// their sugar left [money]; nought where the season has no price.
    [[nodiscard]] double paid(std::size_t part, std::size_t member, Day sliced, double left) const;
    /// Sugar in a part's beets as they were piled [kg].
    [[nodiscard]] double sugar_kg(std::size_t part, std::size_t member) const;
    /// The course's day on which a part is sliced, or as near as it gets.
    [[nodiscard]] const PartDay& on(std::size_t part, const PartCourse& course, Day day) const;

 private:
    explicit PileStudy(const ledger::Season& season) : season_(season) {}
    Result<Courses> run_from(std::size_t first, std::size_t last, const PileDeed& deed,
                             WorkerPool& pool, Steps& steps, std::span<const Day> frames,
                             const std::optional<PicturedPart>& pictured) const;
    Result<Done> look_ahead(const StudyQuestion& question);
    void take_beets(std::span<const ledger::FieldAmounts> amounts,
                    const std::vector<FieldDays>& days);

    ledger::Season season_;  ///< as it is known now
    std::unique_ptr<Catalogue> catalogue_;
    PileContents contents_;
    std::unique_ptr<weather::Outlook> outlook_;
    std::vector<weather::SunPosition> suns_;
    std::vector<PileMember> members_;
    std::vector<PartFacts> facts_;
    std::vector<std::vector<std::vector<LayerBeet>>> beets_;  ///< by part, draw and layer
    CourseBasis basis_;
    std::vector<std::string> assumptions_;
};

}  // namespace beetwright::engine
