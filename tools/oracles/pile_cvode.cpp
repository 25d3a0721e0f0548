// The equations of a pile's section, between its cells, integrated by SUNDIALS' CVODE: backward
// differences of variable order, a dense Jacobian, a relative tolerance of 1e-8. Rates are put
// together here once more, from the equations in docs/methods, out of the library's geometry, flow
// and carrying; how they are stepped in time is CVODE's alone.
//
// Writes what tests/pile/reference_test.cpp holds the pile's own steps against:
//     oracle_pile_cvode tests/oracles/pile.csv
#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

#include <cmath>
#include <cstdio>
#include <memory>
#include <vector>

#include "pile/conversions.hpp"
#include "pile/reference_section.hpp"

namespace {

using namespace beetwright;
using namespace beetwright::pile;

constexpr double kHumidCapacity = kAirCapacity + 0.005 * kVapourCapacity;
constexpr double kHeat_J_kg = 1000.0 * kHeat_J_g;

/// Unknowns: heat of each solid cell; then of each beet cell humidity, carbon dioxide, film,
/// healing and sugar left.
class Section {
 public:
    Section()
        : plan_(reference_section()),
          c_(reference_constants()),
          grid_(*make_grid(plan_.shape, plan_.grid)),
          lot_of_cell_(lots_of_cells(grid_, plan_.lots)),
          bed_(make_bed(grid_, plan_.lots, lot_of_cell_, c_, 0.0)),
          airflow_(grid_.box),
          gases_(grid_.box) {
        for (std::size_t i = grid_.box.begin(); i < grid_.box.end(); ++i) {
            if (bed_.is_there(i)) {
                solid_.push_back(i);
            }
            if (bed_.has_beet(i)) {
                beet_.push_back(i);
            }
        }
        airflow_.lay(bed_, grid_);
        gases_.lay(bed_);
        for (auto* field : {&celsius_, &humidity_, &gas_, &film_, &healed_, &left_, &net_, &vapour_,
                            &carbon_, &slope_, &face_, &none_}) {
            *field = grid_.box.field();
        }
        std::ranges::fill(humidity_, 0.0045);
        for (std::size_t d = 0; d < 2; ++d) {
            spread_[d] = grid_.box.field();
            carried_[d] = grid_.box.field();
            open_[d] = grid_.box.field();
        }
    }

    [[nodiscard]] std::size_t size() const { return solid_.size() + 5 * beet_.size(); }
    [[nodiscard]] const Grid& grid() const { return grid_; }
    [[nodiscard]] const std::vector<std::size_t>& beet() const { return beet_; }
    [[nodiscard]] std::size_t number(std::size_t cell) const {
        return reference_number(grid_.box, cell);
    }

    void begin(double* y, double* tolerance) const {
        for (std::size_t n = 0; n < solid_.size(); ++n) {
            const std::size_t i = solid_[n];
            double celsius = plan_.lots[0].celsius;
            if (grid_.is_ground(i)) {
                const double depth = grid_.centre[2][i] / grid_.layer_bottom.front();
                celsius = plan_.ground_C + depth * (plan_.deep_ground_C - plan_.ground_C);
            }
            y[n] = enthalpy(celsius, bed_.content(i));
            tolerance[n] = 1e-6 * bed_.warm[i];
        }
        double* rest = y + solid_.size();
        double* loose = tolerance + solid_.size();
        for (std::size_t n = 0; n < beet_.size(); ++n) {
            const double values[] = {humidity_ratio_of(0.95 * saturation_Pa(plan_.lots[0].celsius)),
                                     0.0, 0.0, 0.0, 1.0};
            const double errors[] = {1e-9, 1e-9, 1e-6, 1e-6, 1e-10};
            for (std::size_t v = 0; v < 5; ++v) {
                rest[5 * n + v] = values[v];
                loose[5 * n + v] = errors[v];
            }
        }
    }

    void set_hour(int k) {
        hour_ = reference_hour(k, grid_.sides.size());
        set_outside(outside_, hour_, grid_.sides, {}, c_);
    }

    void unpack(const double* y) {
        for (std::size_t n = 0; n < solid_.size(); ++n) {
            celsius_[solid_[n]] = temperature(y[n], bed_.content(solid_[n]));
        }
        const double* rest = y + solid_.size();
        for (std::size_t n = 0; n < beet_.size(); ++n) {
            const std::size_t i = beet_[n];
            humidity_[i] = rest[5 * n];
            gas_[i] = rest[5 * n + 1];
            film_[i] = rest[5 * n + 2];
            healed_[i] = rest[5 * n + 3];
            left_[i] = rest[5 * n + 4];
        }
    }

    enum class Flow { anew, as_it_is };

    void rates(const double* y, double* dy, Flow flow) {
        unpack(y);
        if (flow == Flow::anew) {
            airflow_.update(celsius_, humidity_,
                            {outside_.density, outside_.wind_Pa, outside_.cover_air}, {},
                            reference_rules(1.0).flow);
            gases_.follow(airflow_);
            gases_.meet(outside_);
        }
        for (auto* field : {&net_, &vapour_, &carbon_}) {
            std::ranges::fill(*field, 0.0);
        }
        between_cells();
        through_faces();
        double* rest = dy + solid_.size();
        for (std::size_t n = 0; n < beet_.size(); ++n) {
            within(beet_[n], rest + 5 * n);
        }
        for (std::size_t n = 0; n < solid_.size(); ++n) {
            dy[n] = net_[solid_[n]];
        }
    }

    [[nodiscard]] double celsius(std::size_t i) const { return celsius_[i]; }
    [[nodiscard]] double humidity(std::size_t i) const { return humidity_[i]; }
    [[nodiscard]] double gas(std::size_t i) const { return gas_[i]; }
    [[nodiscard]] double film(std::size_t i) const { return film_[i]; }
    [[nodiscard]] double left(std::size_t i) const { return left_[i]; }
    [[nodiscard]] double kg(std::size_t i) const { return bed_.beet[i]; }

 private:
    [[nodiscard]] double conductivity(std::size_t i) const {
        const double hundreds = 0.01 * (celsius_[i] + kZeroCelsius);
        return bed_.still[i] + bed_.ice_adds[i] * ice_share(celsius_[i], bed_.freezing[i]) +
               bed_.radiation[i] * hundreds * hundreds * hundreds;
    }

    void between_cells() {
        const auto& box = grid_.box;
        num::Passage heat;
        for (std::size_t d = 0; d < 2; ++d) {
            const std::size_t stride = box.stride(num::kEveryDirection[d]);
            for (std::size_t i = box.begin(); i < box.end(); ++i) {
                const double a = conductivity(i);
                const double b = conductivity(i + stride);
                spread_[d][i] =
                    bed_.reach[d][i] > 0.0 ? bed_.reach[d][i] / (0.5 / a + 0.5 / b) : 0.0;
                carried_[d][i] = kHumidCapacity * airflow_.flow(d)[i];
                open_[d][i] = bed_.air_opening[d][i] > 0.0 ? 1.0 : 0.0;
            }
            heat.spread[d] = spread_[d].data();
            heat.flow[d] = carried_[d].data();
            heat.open[d] = open_[d].data();
        }
        num::add_carried(box, heat, celsius_, num::Slopes::van_leer, net_, slope_, face_);
        // The pile's steps, minutes long, take gases from upstream without slopes.
        gases_.net(humidity_, outside_.humidity, none_, vapour_);
        gases_.net(gas_, 0.0, none_, carbon_);
    }

    void through_faces() {
        const auto flows = airflow_.facet_flow();
        for (std::size_t f = 0; f < bed_.facets.size(); ++f) {
            const auto& facet = bed_.facets[f];
            const auto& side = outside_.sides[facet.side];
            const double t = celsius_[facet.cell];
            const double resistance =
                1.0 / side.heat_transfer + side.resistance + facet.depth / conductivity(facet.cell);
            net_[facet.cell] += facet.area / resistance * (side.felt_C - t) -
                                kHumidCapacity * flows[f] * (flows[f] > 0.0 ? t : hour_.air_C);
        }
        for (std::size_t i = grid_.box.begin(); i < grid_.box.end(); i += grid_.box.up) {
            net_[i] += grid_.cell[0] * grid_.cell[1] * conductivity(i) /
                       (0.5 * grid_.layer_height.front()) * (hour_.deep_ground_C - celsius_[i]);
        }
    }

    /// Breathing, evaporation and what follows from them, in a cell of beet.
    void within(std::size_t i, double* dy) {
        const auto& beet = plan_.lots[0].beet;
        const auto& lump = c_.lump;
        const double wounds = beet.tail_wound + beet.crown_wound + beet.skin_wound;
        const double unhealed = std::exp(-healed_[i]);
        const double oxygen = oxygen_at(gas_[i]);
        const double aired = oxygen * (kOutsideOxygen + c_.oxygen_half) /
                             (kOutsideOxygen * (oxygen + c_.oxygen_half));
        const double factor = 1.0 + lump.leaf_extra * beet.leaf + lump.soil_extra * beet.soil +
                              lump.healing_extra * wounds * unhealed;
        const double sugar_s =
            basal_rate(celsius_[i], lump) / 86400.0 * factor * aired * left_[i];  // [kg/kg/s]

        const double reynolds = airflow_.speed()[i] * c_.root_diameter / kAirViscosity;
        const double transfer = kAirConductivity / c_.root_diameter *
                                (2.0 + 1.1 * std::pow(reynolds + 1e-12, 0.6) * 0.894);
        const double all_wet =
            bed_.surface[i] * transfer / kAirCapacity * kWaterToAir / kAirPressure_Pa;
        const double saturation = saturation_Pa(celsius_[i]);
        const double pressure = vapour_Pa(humidity_[i]);
        double from_film = 0.0;
        double from_beet = 0.0;
        if (pressure > saturation) {
            from_film = all_wet * (saturation - pressure);
        } else {
            const double share =
                std::min(1.0, std::max(0.0, film_[i]) / (c_.film * bed_.volume[i]));
            const double skin =
                bed_.surface[i] * c_.skin_transfer *
                (1.0 + c_.wound_transpiration * wounds * open_to_water(unhealed, c_.closed_at));
            from_film = share * all_wet * (saturation - pressure);
            from_beet = (1.0 - share) / (1.0 / all_wet + 1.0 / skin) *
                        std::max(0.0, c_.water_activity * saturation - pressure);
        }
        net_[i] += kHeat_J_kg * sugar_s * bed_.beet[i] - kEvaporation * (from_film + from_beet);
        dy[0] = (vapour_[i] + from_film + from_beet) / gases_.held()[i];
        dy[1] = (carbon_[i] + kCarbonDioxidePerSugar * sugar_s * bed_.beet[i]) / gases_.held()[i];
        dy[2] = -from_film;
        dy[3] = healing_rate(celsius_[i], c_) / 86400.0;
        dy[4] = -sugar_s / plan_.lots[0].sugar;
    }

    Plan plan_;
    PileConstants c_;
    Grid grid_;
    std::vector<std::size_t> lot_of_cell_;
    Bed bed_;
    Airflow airflow_;
    Gases gases_;
    Outside outside_;
    WeatherHour hour_;
    std::vector<std::size_t> solid_, beet_;
    num::Field celsius_, humidity_, gas_, film_, healed_, left_, net_, vapour_, carbon_, slope_,
        face_, none_;
    std::array<num::Field, 2> spread_, carried_, open_;
};

int right_hand_side(realtype /*t*/, N_Vector y, N_Vector dy, void* section) {
    static_cast<Section*>(section)->rates(N_VGetArrayPointer(y), N_VGetArrayPointer(dy),
                                          Section::Flow::anew);
    return 0;
}

/// Newton's slopes, by differences under the flow as it is: they say how fast CVODE comes to a
/// step's solution, not to which.
int jacobian(realtype /*t*/, N_Vector y, N_Vector dy, SUNMatrix matrix, void* data, N_Vector moved,
             N_Vector /*b*/, N_Vector /*c*/) {
    auto* section = static_cast<Section*>(data);
    const sunindextype size = N_VGetLength(y);
    double* at = N_VGetArrayPointer(y);
    const double* still = N_VGetArrayPointer(dy);
    double* now = N_VGetArrayPointer(moved);
    for (sunindextype j = 0; j < size; ++j) {
        const double before = at[j];
        const double step = 1e-7 * std::max(std::abs(before), 1e-4);
        at[j] = before + step;
        section->rates(at, now, Section::Flow::as_it_is);
        for (sunindextype i = 0; i < size; ++i) {
            SM_ELEMENT_D(matrix, i, j) = (now[i] - still[i]) / step;
        }
        at[j] = before;
    }
    return 0;
}

void write_row(std::FILE* out, const Section& section, int hour) {
    double celsius = 0.0;
    double left = 0.0;
    double film = 0.0;
    double mass = 0.0;
    for (const std::size_t i : section.beet()) {
        celsius += section.kg(i) * section.celsius(i);
        left += section.kg(i) * section.left(i);
        film += section.film(i);
        mass += section.kg(i);
    }
    std::fprintf(out, "h%d mean_C,%.12g\nh%d left,%.14g\nh%d film,%.12g\n", hour, celsius / mass,
                 hour, left / mass, hour, film);
    for (const std::size_t i : section.beet()) {
        const std::size_t number = section.number(i);
        std::fprintf(out, "h%d c%zu celsius,%.12g\nh%d c%zu humidity,%.12g\nh%d c%zu gas,%.12g\n",
                     hour, number, section.celsius(i), hour, number, section.humidity(i), hour,
                     number, section.gas(i));
    }
}

}  // namespace

int main(int count, char** words) {
    if (count != 2) {
        std::fprintf(stderr, "usage: oracle_pile_cvode file.csv\n");
        return 2;
    }
    const std::unique_ptr<std::FILE, int (*)(std::FILE*)> out(std::fopen(words[1], "w"),
                                                              &std::fclose);
    if (out == nullptr) {
        std::fprintf(stderr, "%s cannot be written\n", words[1]);
        return 1;
    }
    Section section;
    SUNContext context = nullptr;
    SUNContext_Create(nullptr, &context);
    const auto size = static_cast<sunindextype>(section.size());
    N_Vector y = N_VNew_Serial(size, context);
    N_Vector tolerance = N_VNew_Serial(size, context);
    section.begin(N_VGetArrayPointer(y), N_VGetArrayPointer(tolerance));
    section.set_hour(0);
    void* solver = CVodeCreate(CV_BDF, context);
    CVodeInit(solver, right_hand_side, 0.0, y);
    CVodeSVtolerances(solver, 1e-8, tolerance);
    CVodeSetUserData(solver, &section);
    SUNMatrix matrix = SUNDenseMatrix(size, size, context);
    SUNLinearSolver linear = SUNLinSol_Dense(y, matrix, context);
    CVodeSetLinearSolver(solver, linear, matrix);
    CVodeSetJacFn(solver, jacobian);
    CVodeSetMaxNumSteps(solver, 500'000);
    std::fprintf(
        out.get(),
        "# Written by tools/oracles/pile_cvode.cpp: SUNDIALS CVODE %d.%d.%d, BDF, relative "
        "tolerance 1e-8.\n",
        SUNDIALS_VERSION_MAJOR, SUNDIALS_VERSION_MINOR, SUNDIALS_VERSION_PATCH);
    realtype t = 0.0;
    for (int k = 0; k < kReferenceHours; ++k) {
        // The weather steps from hour to hour: each is integrated for itself.
        section.set_hour(k);
        CVodeReInit(solver, t, y);
        CVodeSetStopTime(solver, 3600.0 * (k + 1));
        if (const int flag = CVode(solver, 3600.0 * (k + 1), y, &t, CV_NORMAL); flag < 0) {
            std::fprintf(stderr, "CVODE gives up in hour %d: %d\n", k, flag);
            return 1;
        }
        if ((k + 1) % 24 == 0) {
            long steps = 0;
            CVodeGetNumSteps(solver, &steps);
            std::printf("hour %d: %ld steps in it\n", k + 1, steps);
            std::fflush(stdout);
            section.unpack(N_VGetArrayPointer(y));
            write_row(out.get(), section, k + 1);
        }
    }
    std::printf("%ld unknowns\n", static_cast<long>(size));
    SUNLinSolFree(linear);
    SUNMatDestroy(matrix);
    CVodeFree(&solver);
    N_VDestroy(y);
    N_VDestroy(tolerance);
    SUNContext_Free(&context);
    return 0;
}
