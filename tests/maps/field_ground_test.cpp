#include "maps/field_ground.hpp"

#include <gtest/gtest.h>

#include "maps/files.hpp"
#include "maps/map_checks.hpp"
#include "maps/zip.hpp"
#include "task_data.hpp"

namespace beetwright::maps {
namespace {

const std::string kField =
    R"({"type":"Feature","properties":{"name":"Long Acre"},"geometry":{"type":"Polygon",)"
    R"("coordinates":[[[8.20,53.10],[8.21,53.10],[8.21,53.11],[8.20,53.10]]]}})";
const std::string kOther =
    R"({"type":"Feature","properties":{"name":"Mill Field"},"geometry":{"type":"Polygon",)"
    R"("coordinates":[[[8.30,53.10],[8.31,53.10],[8.31,53.11],[8.30,53.10]]]}})";
const std::string kTable =
    "at;longitude [°];latitude [°];height [m]\n2031-10-04T07:30:00Z;8,2001;53,1;12,5\n";
const std::string kGrid = "ncols 1\nnrows 1\nxllcorner 499999\nyllcorner 5884000\ncellsize 2\n12\n";

std::string collection(const std::string& features) {
    return R"({"type":"FeatureCollection","features":[)" + features + "]}";
}

std::string packed(const std::vector<NamedFile>& files) {
    const auto bytes = write_zip(files);
    EXPECT_TRUE(bytes.ok());
    return bytes.ok() ? *bytes : "";
}

Result<BorderReading> border(const std::string& bytes, const std::string& field = "Long Acre",
                             const std::string& name = "sent.zip") {
    return read_border(std::vector<MapFile>{{name, bytes}}, field);
}
Result<HeightsReading> heights(const std::string& bytes, const std::string& field = "Long Acre",
                               const MapFacts& facts = {}) {
    return read_heights(std::vector<MapFile>{{"sent.zip", bytes}}, field, facts);
}

template <class Reading>
void expect_read(const Result<Reading>& reading) {
    ASSERT_TRUE(reading) << reading.problems().front().text();
}

/// The files of a shapefile in a folder of an archive.
std::vector<NamedFile> shapefile_in(const std::string& folder) {
    std::vector<NamedFile> files;
    for (const char* ending : {"shp", "dbf", "prj", "cpg"}) {
        files.push_back(
            {folder + "fields." + ending, made_elsewhere(std::string("fields.") + ending)});
    }
    return files;
}

/// Task data of two fields, each with a border, and a log for each partfield's id given.
std::vector<NamedFile> terminal(const std::vector<std::string>& logged) {
    const auto header = "<PTN A=\"\" B=\"\" C=\"\" D=\"\"/>";
    std::string elements = "<PFD A=\"PFD1\" C=\"Long Acre\" D=\"0\"><PLN A=\"1\">" +
                           triangle_element() +
                           "</PLN></PFD><PFD A=\"PFD2\" C=\"Mill Field\" D=\"0\"><PLN A=\"1\">" +
                           triangle_element() + "</PLN></PFD>";
    std::vector<NamedFile> files;
    for (std::size_t k = 0; k < logged.size(); ++k) {
        const auto name = "TLG0000" + std::to_string(k + 1);
        elements += "<TSK A=\"TSK" + std::to_string(k + 1) + "\" B=\"Lifting\" E=\"" + logged[k] +
                    "\" G=\"4\"><TLG A=\"" + name + "\" C=\"1\"/></TSK>";
        const auto records = RecordBytes()
                                 .time(1000, 18900)
                                 .degrees(53.12)
                                 .degrees(8.22 + 0.01 * static_cast<double>(k))
                                 .number(4, 12500)
                                 .number(1, 4)
                                 .number(1, 0);
        files.push_back(
            {"TASKDATA/" + name + ".XML", "<TIM A=\"\" D=\"4\">" + std::string(header) + "</TIM>"});
        files.push_back({"TASKDATA/" + name + ".BIN", records.text()});
    }
    files.push_back(task_data_with(elements));
    return files;
}

TEST(FieldGround, TheOnlyAreaIsTheBorderWhateverItsName) {
    const auto own = border(kField);
    expect_read(own);
    EXPECT_EQ(own->area.at(0).outer.size(), 3U);
    EXPECT_TRUE(own->notes.empty());
    const auto other = border(kField, "Hollow Oak");
    expect_read(other);
    EXPECT_EQ(other->area, own->area);
    expect_note(other->notes, "its only area, 'Long Acre', is taken as the border of 'Hollow Oak'");
}

TEST(FieldGround, OfSeveralAreasTheNameSaysWhich) {
    const auto both = collection(kField + "," + kOther);
    const auto mill = border(both, "Mill Field");
    expect_read(mill);
    EXPECT_DOUBLE_EQ(mill->area.at(0).outer.at(0).longitude_deg, 8.30);
    EXPECT_TRUE(mill->notes.empty());
    expect_problem(border(both, "Hollow Oak"),
                   "sent.zip, name: none of its areas is named 'Hollow Oak'. name the field as one "
                   "of: Long Acre, Mill Field");
    expect_problem(border(collection(kField + "," + kField)),
                   "2 of its areas are named 'Long Acre'");
}

TEST(FieldGround, BordersAndHeightsAreToldApart) {
    expect_problem(border(kTable), "this is a file of heights, without borders");
    expect_problem(heights(kField), "this is a file of borders, without heights");
    const auto track = heights(kTable);
    expect_read(track);
    ASSERT_TRUE(std::holds_alternative<ground::Track>(*track));
    EXPECT_DOUBLE_EQ(std::get<ground::Track>(*track).fixes.at(0).height_m, 12.5);
}

TEST(FieldGround, AShapefileMayComeAsAnArchive) {
    const auto apart =
        read_map_file(std::vector<MapFile>{{"fields.shp", made_elsewhere("fields.shp")},
                                           {"fields.prj", made_elsewhere("fields.prj")}});
    expect_read(apart);
    for (const std::string folder : {"", "maps/north/", "./"}) {
        auto files = shapefile_in(folder);
        files.push_back({"__MACOSX/" + folder + "._fields.shp", made_elsewhere("fields.shp")});
        files.push_back({folder + ".hidden.geojson", kField});
        files.push_back({"about/readme.txt", "Fields of the north."});
        const auto reading = border(packed(files));
        expect_read(reading);
        EXPECT_EQ(reading->area, std::get<AreasReading>(*apart).areas.at(0).area);
        expect_note(reading->notes, "passed over in the archive, as no map: about/readme.txt");
    }
}

TEST(FieldGround, AGridMayComeAsAnArchiveWithItsSystem) {
    const auto prj = made_elsewhere("fields.prj");
    const auto reading = heights(packed({{"dem/dem.asc", kGrid}, {"dem/dem.prj", prj}}));
    expect_read(reading);
    ASSERT_TRUE(std::holds_alternative<ground::Heights>(*reading));
    EXPECT_NEAR(std::get<ground::Heights>(*reading).points.at(0).position.longitude_deg, 9.0, 1e-8);
    // What is wrong in an archive is said of the file in it.
    expect_problem(heights(packed({{"dem/dem.asc", kGrid}})),
                   "sent.zip/dem/dem.asc, crs: nothing says of which coordinate system");
    expect_read(heights(packed({{"dem/dem.asc", kGrid}}), "Long Acre", {.crs = "EPSG:25832"}));
}

TEST(FieldGround, AFileThatWasOnlyPackedIsCalledByItsOwnName) {
    const auto wrong = kTable + "2031-10-04T07:30:01Z;8,2001;153,1;12,5\n";
    const auto file_of = [&](const std::string& entry) {
        const std::string bytes = packed({{entry, wrong}});
        const auto refused = read_heights(std::vector<MapFile>{{"log.csv", bytes}}, "Long Acre");
        return refused ? "" : refused.problems().front().where.file;
    };
    EXPECT_EQ(file_of("log.csv"), "log.csv");
    EXPECT_EQ(file_of("other.csv"), "log.csv/other.csv");
}

TEST(FieldGround, AnArchiveHoldsOneMap) {
    auto files = shapefile_in("");
    files.push_back({"old/borders.json", kField});
    expect_problem(border(packed(files)),
                   "sent.zip: 2 maps stand in this archive: fields.shp, old/borders.json");
    // The same name in two folders is two maps.
    auto twice = shapefile_in("north/");
    const auto south = shapefile_in("south/");
    twice.insert(twice.end(), south.begin(), south.end());
    expect_problem(border(packed(twice)), "north/fields.shp, south/fields.shp");
    expect_problem(border(packed({{"a.txt", "?"}, {"b.xml", "<x/>"}})),
                   "no map is in this archive, but a.txt, b.xml");
    expect_problem(border(packed({{"__MACOSX/a.json", kField}})), "there is no file");
}

TEST(FieldGround, AnArchiveComesAlone) {
    const auto zip = packed(shapefile_in(""));
    const std::vector<MapFile> files{{"border.geojson", kField}, {"sent.zip", zip}};
    expect_problem(read_border(files, "Long Acre"), "sent.zip: this archive came with other files");
    EXPECT_FALSE(read_border({}, "Long Acre"));
    EXPECT_FALSE(read_heights({}, "Long Acre"));
}

TEST(FieldGround, BombsAndDamageAreRefusedByTheArchivesReader) {
    constexpr std::size_t kZeros = 10'000'000;
    const auto bomb = packed({{"dem.asc", std::string(kZeros, '0')}});
    expect_problem(heights(bomb), "sent.zip, dem.asc: the file unpacks to over 200 times");
    expect_problem(border(bomb.substr(0, bomb.size() / 2)), "sent.zip: the archive is damaged");
}

TEST(FieldGround, TaskDataHasBordersByPartfield) {
    auto files = terminal({});
    files.push_back({"__MACOSX/TASKDATA/._TASKDATA.XML", "?"});
    const auto reading = border(packed(files), "Mill Field");
    expect_read(reading);
    EXPECT_EQ(reading->area.at(0).outer.size(), 3U);
    expect_problem(border(packed(files), "Hollow Oak"), "one of: Long Acre, Mill Field");
    expect_problem(border(packed({task_data_with("")})), "sent.zip: it holds no border of a field");
    expect_problem(heights(packed(files)), "it holds no log of what was driven");
    expect_problem(border(packed({task_data_with("<PFD A=\"PFD1\"><PLN A=\"1\">" +
                                                 triangle_element(2) + "</PLN></PFD>")})),
                   "sent.zip/TASKDATA/TASKDATA.XML:3, PLN: the polygon has no outer ring", 3);
}

TEST(FieldGround, TheOnlyLogIsTheFieldsWhateverItSays) {
    const auto reading = heights(packed(terminal({"PFD2"})), "Hollow Oak");
    expect_read(reading);
    const auto& track = std::get<ground::Track>(*reading);
    ASSERT_EQ(track.fixes.size(), 1U);
    EXPECT_DOUBLE_EQ(track.fixes[0].height_m, 12.5);
    EXPECT_EQ(track.name, "sent.zip");
}

TEST(FieldGround, OfSeveralLogsThoseOfTheFieldAreOneTrack) {
    const auto zip = packed(terminal({"PFD1", "PFD2", "PFD1"}));
    const auto reading = heights(zip, "Long Acre", {.heights_over = ground::HeightOver::ellipsoid});
    expect_read(reading);
    const auto& track = std::get<ground::Track>(*reading);
    ASSERT_EQ(track.fixes.size(), 2U);
    EXPECT_NEAR(track.fixes[0].position.longitude_deg, 8.22, 1e-9);
    EXPECT_NEAR(track.fixes[1].position.longitude_deg, 8.24, 1e-9);
    EXPECT_EQ(track.heights_over, ground::HeightOver::ellipsoid);
    expect_problem(heights(zip, "Hollow Oak"),
                   "none of its logs is of a field named 'Hollow Oak'. name the field as one of: "
                   "Long Acre, Mill Field");
}

}  // namespace
}  // namespace beetwright::maps
