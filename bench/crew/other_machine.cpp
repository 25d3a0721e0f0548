#include "crew/other_machine.hpp"

#include <algorithm>
#include <cmath>

namespace beetwright::crew {
namespace {

using harvester::Conditions;
using harvester::Control;
using harvester::ControlKind;
using harvester::kBreakClasses;
using harvester::kBreakLimits;
using harvester::Look;
using harvester::Outcome;
using harvester::Settings;
using harvester::SoilFeel;
using harvester::TailLies;

constexpr int kCrowns = 240;
constexpr double kUsualFlow = 6 * 0.5 * (5.0 / 3.6) * 7.0;  // [kg/s]

double about(RandomStream& random, double middle, double factor) {
    return middle * std::exp(std::log(factor) / 1.6448536 * random.normal());
}

}  // namespace

OtherMachine::OtherMachine(const harvester::Machine& machine, std::uint64_t seed,
                           std::uint64_t number)
    : machine_(machine) {
    RandomStream random(seed, "a crew's machine and field", number);
    const double kind = random.uniform();
    // Dry and hard, middling, or wet; the truth lies between the classes people have for it.
    hard_ = kind < 0.3 ? random.uniform() : 0.0;
    wet_ = kind > 0.6 ? random.uniform() : 0.0;
    limp_ = random.chance(0.3) ? 0.2 + 0.6 * random.uniform() : 0.1 * random.uniform();
    root_ = about(random, 0.8, 1.5);
    spacing_m_ = 0.17 + 0.08 * random.uniform();
    crop_ = root_ / (spacing_m_ * row_m_);
    const double mean_m = 0.03 + 0.05 * random.uniform();
    const double spread_m = 0.008 + 0.02 * random.uniform();
    const double second = 0.3 * random.uniform();  // share of a taller kind: doubles, gaps
    double walk = 0.0;
    for (int i = 0; i < kCrowns; ++i) {
        walk = 0.4 * walk + std::sqrt(1.0 - 0.16) * random.normal();
        heights_m_.push_back(mean_m + spread_m * walk +
                             (random.chance(second) ? 1.5 * spread_m : 0.0));
    }
    most_lifting_ = 0.5 + 0.45 * random.uniform();
    depth_half_m_ = (0.055 + 0.03 * random.uniform()) * std::cbrt(root_ / 0.8);
    depth_steep_ = 2.0 + 5.0 * random.uniform();
    lift_speed_ = 0.1 * random.uniform();
    rush_ = 1.0 + 3.0 * random.uniform();
    rush_from_kmh_ = 5.0 + 2.0 * random.uniform();
    lift_hard_ = 0.3 + 0.9 * random.uniform();
    lift_cm_ = about(random, 1.5, 1.5);
    clean_rate_ = about(random, 0.12, 2.5);
    clean_power_ = 1.5 + 3.0 * random.uniform();
    clean_flow_ = 0.4 + 1.2 * random.uniform();
    clean_roll_ = 1.5 * random.uniform();
    clean_tined_ = 0.4 * random.uniform();
    clean_cm_ = about(random, 1.6, 1.5);
    unlifted_ = about(random, 0.004, 3.0);
    unlifted_steep_ = 1.0 + 4.0 * random.uniform();
    rolls_lost_ = about(random, 0.002, 4.0);
    guards_lost_ = about(random, 0.002, 4.0);
    guards_size_ = 1.0 + 3.0 * random.uniform();
    soil_ = about(random, 0.05, 2.0);
    soil_wet_ = 0.5 + 2.5 * random.uniform();
    soil_depth_ = 0.3 + 1.2 * random.uniform();
    before_ = 0.4 + 0.6 * random.uniform();
    leaving_ = 4.0 + 3.0 * random.uniform();
    soil_clean_ = 1.5 * random.uniform();
    soil_roll_ = 1.5 * random.uniform();
    soil_tined_ = 0.5 * random.uniform();
    soil_bed_ = 0.5 * random.uniform();
    clods_ = about(random, 0.012, 2.5);
    skin_ = about(random, 15e-4, 2.5);
    skin_power_ = 0.5 + 2.0 * random.uniform();
    knife_m_ = 0.0035 * random.normal();
    remover_m_ = 0.007 * random.normal();
    wobble_m_ = about(random, 0.004, 1.8);
    lag_s_ = about(random, 0.07, 1.8);
    bounce_ = 0.5 * random.uniform();
    leaf_free_m_ = about(random, 0.005, 1.8);
    right_m_ = about(random, 0.015, 1.4);
    stalks_ = 0.15 + 0.3 * random.uniform();
    stalks_rotor_ = 2.0 + 6.0 * random.uniform();
    slant_ = about(random, 0.06, 2.0);
    wear_ = 0.004 * random.uniform();  // an hour

    // People see the field roughly.
    Conditions& c = judged_;
    double sum = 0.0, squares = 0.0, steps = 0.0;
    constexpr int kMeasured = 20;
    for (int i = 0; i < kMeasured; ++i) {
        const double height = heights_m_[static_cast<std::size_t>(i)] + 0.003 * random.normal();
        const double step = i == 0 ? 0.0 : height - heights_m_[static_cast<std::size_t>(i - 1)];
        sum += height;
        squares += height * height;
        steps += step * step;
    }
    const double mean = sum / kMeasured;
    const double sd = std::sqrt(std::max(squares / kMeasured - mean * mean, 1e-6));
    c.crowns = {Length(mean), Length(sd),
                Length(std::min(std::sqrt(steps / (kMeasured - 1)), 2.0 * sd)), Length(spacing_m_)};
    c.roots = {.beets = BeetsPerArea(1.0 / (spacing_m_ * row_m_)),
               .mean_mass = CleanMass(about(random, root_, 1.15)),
               .mass_spread = 0.45};
    c.leaf = {.fresh_mass = MassPerArea(4.0), .dead_share = limp_, .frozen_share = 0.0};
    c.soil.feel = hard_ > 0.5   ? SoilFeel::hard
                  : wet_ > 0.75 ? SoilFeel::sticky
                  : wet_ > 0.3  ? SoilFeel::plastic
                                : SoilFeel::crumbly;

    // Set for another field or day: near the usual, each a little off, some by much.
    found_ = harvester::usual_settings(machine_);
    for (const Control& control : machine_.controls) {
        double& set = found_.values.find(control.id())->second;
        if (harvester::traits(control.kind).is_choice()) {
            set = random.chance(0.3) ? 1.0 - control.usual : control.usual;
            continue;
        }
        const double off = random.chance(0.15) ? 0.15 : 0.05;
        const double by = off * (control.most - control.least) * random.normal();
        const double steps_by = std::round(by / control.step);
        set = std::clamp(set + steps_by * control.step, control.least, control.most);
    }
    // Turbines stand alike, as they mostly do.
    for (const char* id : {"turbine_2", "turbine_3"}) {
        for (const char* of : {".speed", ".guard", ".clearance"}) {
            found_.values[std::string(id) + of] = found_.values[std::string("turbine_1") + of];
        }
    }
    found_.values["follower.lowest"] = machine_.find("follower.lowest")->least;
}

/// Beyond some speed shares lose the row and the machine bounces.
double OtherMachine::rush(double kmh) const {
    return 1.0 + rush_ * std::pow(std::max(kmh / rush_from_kmh_, 1.0) - 1.0, 1.5);
}

double OtherMachine::value(const Settings& settings, const char* id) const {
    return *settings.find(id);
}

OtherMachine::Cleaning OtherMachine::cleaning(const Settings& settings) const {
    Cleaning c{.turbines = 0.0};
    int turbines = 0;
    for (const Control& control : machine_.controls) {
        const double set = *settings.find(control.id());
        switch (control.kind) {
            case ControlKind::turbine_speed:
                c.turbines += std::pow(set / control.usual, clean_power_);
                c.power += set / control.usual;
                ++turbines;
                break;
            case ControlKind::turbine_guard: c.tined += set; break;
            case ControlKind::guard_clearance: c.clearance_m += set; break;
            case ControlKind::roller_speed: c.rolls = set / control.usual; break;
            default: break;
        }
    }
    c.turbines /= turbines;
    c.power /= turbines;
    c.tined /= turbines;
    c.clearance_m /= turbines;
    return c;
}

OtherMachine::Topping OtherMachine::topping(const Settings& settings, double hours) const {
    const double speed = value(settings, "driving.speed");
    const double remover = value(settings, "leaf_remover.height") + remover_m_;
    const double cut =
        std::max(value(settings, "scalper.thickness") + knife_m_ - 0.5 * wear_ * hours * 0.01, 0.0);
    const double step_s = spacing_m_ / speed;
    // The shoe falls and rises no faster than it can, and jumps the more the faster it goes.
    const double most_step = 0.03 * step_s / lag_s_;
    Topping t;
    RandomStream random(11, "a row of crowns");
    double shoe = heights_m_.front();
    const double rotor = value(settings, "leaf_remover.speed") / (850.0 / 60.0);
    const double clear =
        1.0 / (1.0 + (1.0 / stalks_ - 1.0) *
                         std::pow(rotor, stalks_rotor_ * std::min(0.25 + limp_, 1.0)) *
                         std::exp(-2.0 * limp_));
    for (const double height : heights_m_) {
        const double top = std::min(height, remover);
        const double tuft = std::max(remover - height, 0.0);
        const double wanted = top + 0.2 * tuft;
        shoe += std::clamp(wanted - shoe, -most_step, most_step);
        const double rough =
            wobble_m_ * (1.0 + bounce_ * (speed * 3.6 / 5.0 - 1.0)) * random.normal();
        const double depth = height - (shoe - cut + rough);
        const bool slanted =
            random.chance(std::min(slant_ * std::pow(speed * 3.6 / 5.0, 1.0 + bounce_), 0.5));
        t.struck += height > remover ? 1.0 : 0.0;
        std::size_t seen = 0;
        if (depth < leaf_free_m_) {
            (depth < 0.0 ? t.untouched : t.leaf_left) += 1.0;
            const double stalk = std::clamp(clear * (0.6 + 10.0 * tuft), 0.0, 1.0);
            t.long_stalks += stalk;
            t.classes[0] += stalk;
            t.classes[1] += 1.0 - stalk;
            continue;
        }
        if (depth < leaf_free_m_ + right_m_) {
            t.right += 1.0;
            seen = 2;
        } else {
            t.too_deep += 1.0;
            t.excess_m += depth - leaf_free_m_ - right_m_;
            seen = 3;
        }
        t.classes[slanted ? 4 : seen] += 1.0;
    }
    const double n = kCrowns;
    if (t.too_deep > 0.0) {
        t.excess_m /= t.too_deep;
    }
    for (double* share :
         {&t.untouched, &t.leaf_left, &t.right, &t.too_deep, &t.struck, &t.long_stalks}) {
        *share /= n;
    }
    for (double& share : t.classes) {
        share /= n;
    }
    return t;
}

double OtherMachine::broken_lifting(double over_cm, const Settings& settings, double hours) const {
    const double depth = value(settings, "share.depth") + 0.3 * wear_ * hours * 0.01;
    const double kmh = value(settings, "driving.speed") * 3.6;
    const double half = depth_half_m_ * (1.0 + 0.3 * hard_ * lift_hard_);
    const double held = std::pow(depth / half, depth_steep_);
    const double any = most_lifting_ * (1.0 + 0.3 * hard_ * lift_hard_) / (1.0 + held) *
                       (1.0 + lift_speed_ * (kmh - 5.0)) * rush(kmh);
    const double size = lift_cm_ * (1.0 + 0.4 * hard_) * std::pow(half / depth, 0.5);
    return std::clamp(any, 0.0, 0.98) * std::exp(-std::pow(over_cm / (1.6 * size), 1.3));
}

double OtherMachine::broken_cleaning(double over_cm, const Settings& settings, double hours) const {
    const Cleaning c = cleaning(settings);
    const double flow = crop_ * 6 * row_m_ * value(settings, "driving.speed") / kUsualFlow;
    const double soft = 1.0 + 0.5 * wet_;  // mud cushions
    const double rate = clean_rate_ * (c.turbines + clean_roll_ * c.rolls * c.rolls) /
                        (1.0 + clean_roll_) * (1.0 + clean_tined_ * c.tined) *
                        (1.0 + wear_ * hours) / std::pow(flow, clean_flow_) / soft;
    const double any = 1.0 - std::exp(-rate);
    return any * std::exp(-std::pow(over_cm / (1.7 * clean_cm_), 1.2));
}

Outcome OtherMachine::outcome(const Settings& settings, double hours) const {
    Outcome out;
    out.standing = CleanMassPerArea(crop_);
    const Topping t = topping(settings, hours);
    out.topping.shares = {.untouched = t.untouched,
                          .leaf_left = t.leaf_left,
                          .right = t.right,
                          .too_deep = t.too_deep,
                          .struck = t.struck};
    out.topping.stalks_over_2cm = t.long_stalks;
    out.topping.over_topped = Length(t.excess_m);
    out.topping.slanted = t.classes[4] / std::max(1.0 - t.untouched, 1e-9);
    const double rotor = value(settings, "leaf_remover.speed") / (850.0 / 60.0);
    out.topping.knocked_out = 0.05 * t.struck * rotor;

    for (auto& place : out.tails.share) {
        place.fill(0.0);
    }
    double from = 0.0;
    for (std::size_t c = 0; c < kBreakClasses; ++c) {
        const bool last = c + 1 == kBreakClasses;
        const double to = last ? 1e9 : 100.0 * kBreakLimits[c].si();
        const double l_from = broken_lifting(from, settings, hours);
        const double c_from = broken_cleaning(from, settings, hours);
        const double l = l_from - broken_lifting(to, settings, hours);
        const double k = c_from - broken_cleaning(to, settings, hours);
        out.tails.share[static_cast<std::size_t>(TailLies::in_the_soil)][c] =
            l * (1.0 - c_from + 0.5 * k);
        out.tails.share[static_cast<std::size_t>(TailLies::on_the_ground)][c] =
            k * (1.0 - l_from + 0.5 * l);
        from = to;
    }

    const Cleaning c = cleaning(settings);
    const double depth = value(settings, "share.depth");
    const double kmh = value(settings, "driving.speed") * 3.6;
    const double flow = crop_ * 6 * row_m_ * (kmh / 3.6) / kUsualFlow;
    const double bed = value(settings, "roller_bed.height");
    const double gap = value(settings, "roller_bed.gap");
    out.whole_roots.unlifted =
        std::min(unlifted_ * rush(kmh) * rush(kmh) * (1.0 + 0.1 * std::max(kmh - 5.0, 0.0)) *
                     (1.0 + std::pow(1.1 * depth_half_m_ / depth, 3.0 + unlifted_steep_)),
                 0.5);
    out.whole_roots.lost_before_cleaning = std::min(
        rolls_lost_ * std::pow(gap / 0.04 / std::cbrt(root_ / 0.8), 2.5) * (0.5 + bed / 0.12), 0.5);
    out.whole_roots.lost_through_guards =
        std::min(guards_lost_ * (1.0 + 1.5 * c.tined) * (0.4 + 10.0 * c.clearance_m) *
                     std::pow(root_ / 0.8, -guards_size_) * std::max(c.power / flow, 0.5),
                 0.5);
    out.whole_roots.mass =
        out.standing * std::min(out.topping.knocked_out + out.whole_roots.unlifted +
                                    0.4 * (out.whole_roots.lost_before_cleaning +
                                           out.whole_roots.lost_through_guards),
                                1.0);
    // Additive, and with less and less to gain by cleaning.
    const double sticking = soil_ * (1.0 + soil_wet_ * wet_) *
                            (1.0 + soil_depth_ * (1.0 + wet_) * (depth - 0.075) / 0.05) *
                            (1.0 - soil_bed_ * wet_ * std::clamp((bed - 0.06) / 0.14, -0.5, 1.0));
    const double taken =
        soil_clean_ * c.power / flow + soil_roll_ * c.rolls / flow + soil_tined_ * wet_ * c.tined;
    out.cleaning.soil_on_beets = harvester::SoilPerBeet(
        std::max(sticking, 0.005) * (0.7 + 0.9 / (1.0 + taken)) +
        before_ * (1.0 + wet_) / std::pow(1.0 + (c.power + c.rolls) / (2.0 * flow), leaving_));
    out.cleaning.loose_soil = harvester::SoilPerBeet(
        clods_ * (1.0 + 2.0 * hard_) * std::pow(depth / 0.075, 1.5) / (0.5 + gap / 0.08));
    out.cleaning.torn_skin =
        Area(skin_ * std::pow(c.power, skin_power_) * std::pow(flow, -0.5 * skin_power_) *
             (0.6 + 0.4 * c.rolls) * (0.8 + 0.2 * value(settings, "bunker.drop")));
    out.work.area_rate = harvester::AreaRate(6 * row_m_ * kmh / 3.6);
    const double lifting = 1.0 / out.work.area_rate.si();
    const double besides = (1.0 / 0.6 - 1.0) / (6 * row_m_ * 5.0 / 3.6);
    out.work.field_efficiency = lifting / (lifting + besides);
    out.work.fuel = harvester::VolumePerArea(
        (10.0 / 3600.0 * 1e-3) * (lifting + besides) + 7e-7 * depth / 0.075 +
        1.5e-7 * (c.power * c.power + c.rolls * c.rolls) + 5e-7 * rotor * rotor * 5.0 / kmh);
    return out;
}

Look OtherMachine::look(const Settings& settings, double hours, int beets,
                        harvester::SeenOnTheWay where, RandomStream& random) const {
    constexpr double kMistaken = 0.08;
    Look look;
    look.where = where;
    const Topping t = topping(settings, hours);
    const Outcome out = outcome(settings, hours);
    const auto drawn = [&](std::span<const double> shares) {
        double left = random.uniform();
        std::size_t c = 0;
        while (c + 1 < shares.size() && left >= shares[c]) {
            left -= shares[c++];
        }
        return c;
    };
    std::array<double, kBreakClasses + 1> tails{};  // whole first
    std::array<double, kBreakClasses + 1> seen_tails{};
    double any = 0.0;
    for (std::size_t c = 0; c < kBreakClasses; ++c) {
        const double to = c + 1 == kBreakClasses ? 1e9 : 100.0 * kBreakLimits[c].si();
        const double from = c == 0 ? 0.0 : 100.0 * kBreakLimits[c - 1].si();
        if (where == harvester::SeenOnTheWay::before_cleaning) {
            tails[c + 1] =
                broken_lifting(from, settings, hours) - broken_lifting(to, settings, hours);
        } else {
            for (const auto& place : out.tails.share) {
                tails[c + 1] += place[c];
            }
        }
        any += tails[c + 1];
    }
    tails[0] = 1.0 - any;
    for (int b = 0; b < beets; ++b) {
        std::size_t crown = drawn(t.classes);
        if (random.chance(kMistaken)) {
            crown = crown == 0 ? 1 : crown == 3 ? 2 : crown - 1 + 2 * random.below(2);
            crown = std::min<std::size_t>(crown, 4);
        }
        look.crowns[crown] += 1.0;
        std::size_t tail = drawn(tails);
        if (random.chance(kMistaken)) {
            tail = tail == 0 ? 1 : std::min(tail - 1 + 2 * random.below(2), tails.size() - 1);
        }
        seen_tails[tail] += 1.0;
    }
    look.breaks.push_back({Length::zero(), Length::zero(), seen_tails[0]});
    for (std::size_t c = 0; c < kBreakClasses; ++c) {
        const Length from = c == 0 ? Length::zero() : kBreakLimits[c - 1];
        const Length to = c + 1 == kBreakClasses ? Length(HUGE_VAL) : kBreakLimits[c];
        look.breaks.push_back({from, to, seen_tails[c + 1]});
    }
    if (where == harvester::SeenOnTheWay::before_cleaning) {
        return look;  // beets alone
    }
    constexpr int kSkins = 20;
    look.skin_beets = kSkins;
    look.skin_mean = out.cleaning.torn_skin * std::exp(0.25 * random.normal());
    constexpr double kStrip_m2 = 12.0;
    look.strip = Area(kStrip_m2);
    const double roots = kStrip_m2 * out.whole_roots.mass.si() / root_ / 1.2;
    look.strip_whole_roots = CleanMass(1.2 * root_ * random.poisson(roots));
    double lost = 0.0;
    for (std::size_t c = 0; c < kBreakClasses; ++c) {
        const double cm = c + 1 == kBreakClasses ? 9.5 : 1.0 + 2.0 * static_cast<double>(c);
        lost += tails[c + 1] * 0.0936 * std::pow(cm / 5.0, 2.11);
    }
    const double piece = 0.1 * root_;
    look.strip_tails = CleanMass(piece * random.poisson(0.6 * kStrip_m2 * crop_ * lost / piece));
    constexpr double kTares = 2.0;  // loads that were sampled since the last check
    look.tares = kTares;
    look.tare_log_mean = std::log((out.cleaning.soil_on_beets + out.cleaning.loose_soil).si()) +
                         0.3 / std::sqrt(kTares) * random.normal();
    return look;
}

}  // namespace beetwright::crew
