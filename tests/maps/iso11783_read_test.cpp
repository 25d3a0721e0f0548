#include "maps/iso11783_read.hpp"

#include <gtest/gtest.h>

#include "task_data.hpp"

namespace beetwright::maps {
namespace {

TaskDataReading read(const std::vector<NamedFile>& files) {
    auto reading = read_task_data(files);
    EXPECT_TRUE(reading.ok());
    if (!reading) {
        ADD_FAILURE() << reading.problems().front().text();
        return {};
    }
    return std::move(*reading);
}

/// Every problem, a line each.
std::string refusal(const std::vector<NamedFile>& files) {
    const auto reading = read_task_data(files);
    EXPECT_FALSE(reading.ok());
    std::string text;
    if (!reading) {
        for (const auto& problem : reading.problems()) {
            EXPECT_FALSE(problem.what.empty());
            EXPECT_FALSE(problem.fix.empty());
            text += problem.text() + "\n";
        }
    }
    return text;
}

std::string refusal_of(const std::string& elements) {
    return refusal({task_data_with(elements)});
}

void expect_said(const std::string& text, const std::string& wanted) {
    EXPECT_NE(text.find(wanted), std::string::npos) << text;
}

std::string partfield(const std::string& inside) {
    return "<PFD A=\"PFD1\" C=\"Long Acre\" D=\"123400\">" + inside + "</PFD>";
}
std::string boundary(const std::string& rings) {
    return partfield("<PLN A=\"1\">" + rings + "</PLN>");
}
std::string task(const std::string& inside) {
    return "<TSK A=\"TSK1\" B=\"Lifting\" G=\"1\">" + inside + "</TSK>";
}
constexpr const char* kValueZone =
    "<TZN A=\"7\"><PDV A=\"018C\" B=\"0\"/><PDV A=\"003D\" B=\"0\"/></TZN>";

TEST(TaskData, PartfieldsHaveBoundariesAndNames) {
    const auto reading = read({task_data_with(
        "<PFD A=\"PFD1\" B=\"LA\" C=\"Long Acre\" D=\"123400\" E=\"CTR1\" F=\"FRM1\" G=\"CTP1\">"
        "<PLN A=\"1\">" +
        ring_element(1, {{"53.1", "8.2"}, {"53.1", "8.3"}, {"53.2", "8.3"}, {"53.1", "8.2"}}) +
        ring_element(2, {{"53.11", "8.25"}, {"53.12", "8.26"}, {"53.11", "8.26"}}) +
        "</PLN><PLN A=\"3\">" + triangle_element() +
        "</PLN><PNT A=\"10\" C=\"53\" D=\"8\"/></PFD>"
        "<PFD A=\"PFD2\" C=\"Nowhere\" D=\"0\"/>"
        "<CTR A=\"CTR1\" B=\"Reed\" C=\"Ada\"/><FRM A=\"FRM1\" B=\"Mill Farm\"/>"
        "<CTP A=\"CTP1\" B=\"Sugar beet\"/>")});
    ASSERT_EQ(reading.partfields.size(), 1U);
    const auto& field = reading.partfields[0];
    EXPECT_EQ(field.name, "Long Acre");
    // The corner that joins the ring is said once.
    const ground::Area area{
        {{{53.1, 8.2}, {53.1, 8.3}, {53.2, 8.3}}, {{{53.11, 8.25}, {53.12, 8.26}, {53.11, 8.26}}}}};
    EXPECT_EQ(field.area, area);
    const std::map<std::string, std::string, std::less<>> said{
        {"id", "PFD1"},           {"code", "LA"},        {"area", "123400 m2"},
        {"customer", "Ada Reed"}, {"farm", "Mill Farm"}, {"crop", "Sugar beet"}};
    EXPECT_EQ(field.said, said);
    const std::vector<std::string> notes{"partfield 'Nowhere' has no boundary, and is left out",
                                         "polygons left out, neither boundaries nor zones: 1"};
    EXPECT_EQ(reading.notes, notes);
}

TEST(TaskData, SeveralOuterRingsOfAPolygonGetTheHolesThatLieInThem) {
    const auto reading = read({task_data_with(
        boundary(ring_element(1, {{"53.1", "8.2"}, {"53.1", "8.25"}, {"53.2", "8.2"}}) +
                 ring_element(2, {{"54.12", "8.22"}, {"54.13", "8.22"}, {"54.12", "8.21"}}) +
                 ring_element(1, {{"54.1", "8.2"}, {"54.1", "8.25"}, {"54.2", "8.2"}})))});
    ASSERT_EQ(reading.partfields.size(), 1U);
    const auto& area = reading.partfields[0].area;
    ASSERT_EQ(area.size(), 2U);
    EXPECT_TRUE(area[0].holes.empty());
    EXPECT_EQ(area[1].holes.size(), 1U);
    expect_said(
        refusal_of(boundary(triangle_element() +
                            ring_element(1, {{"54.1", "8.2"}, {"54.1", "8.3"}, {"54.2", "8.2"}}) +
                            ring_element(2, {{"1", "1"}, {"1", "2"}, {"2", "1"}}))),
        "LSG A: the hole lies in none");
}

TEST(TaskData, TasksHaveZonesWithValues) {
    const auto reading = read({task_data_with(
        boundary(triangle_element()) +
        "<TSK A=\"TSK1\" B=\"Lifting\" E=\"PFD1\" G=\"1\" H=\"1\" I=\"2\" J=\"0\">"
        "<TZN A=\"0\" B=\"outside\"/>"
        "<TZN A=\"1\" B=\"knoll\"><PLN A=\"2\">" +
        triangle_element() +
        "</PLN><PDV A=\"018C\" B=\"1389\"/><PDV A=\"DfFe\" B=\"-2147483648\"/></TZN>"
        "<CAN C=\"mind the pond\"/></TSK>")});
    ASSERT_EQ(reading.tasks.size(), 1U);
    const auto& of = reading.tasks[0];
    EXPECT_EQ(of.name, "Lifting");
    EXPECT_EQ(of.partfield, "Long Acre");
    EXPECT_EQ(of.default_zone, 1);
    EXPECT_EQ(of.position_lost_zone, 2);
    EXPECT_EQ(of.out_of_field_zone, 0);
    EXPECT_EQ(of.comments, std::vector<std::string>{"mind the pond"});
    const TreatmentZone outside{.code = 0, .name = "outside"};
    const TreatmentZone knoll{.code = 1,
                              .name = "knoll",
                              .area = {{{{53.1, 8.2}, {53.1, 8.3}, {53.2, 8.2}}, {}}},
                              .values = {{396, 1389}, {0xDFFE, -2147483647 - 1}}};
    ASSERT_EQ(of.zones.size(), 2U);
    EXPECT_EQ(of.zones[0], outside);
    EXPECT_EQ(of.zones[1], knoll);
}

TEST(TaskData, PartsMayStandInFilesOfTheirOwn) {
    const std::vector<NamedFile> files{
        {"taskdata.xml",
         "<ISO11783_TaskData><XFR A=\"PFD00001\" B=\"1\"/>"
         "<XFR A=\"TSK00001\" B=\"1\"/></ISO11783_TaskData>"},
        {"PFD00001.xml", "<XFC>" + boundary(triangle_element()) + "</XFC>"},
        {"tsk00001.XML", "<XFC><TSK A=\"TSK1\" B=\"Lifting\" E=\"PFD1\" G=\"1\"/></XFC>"}};
    const auto reading = read(files);
    EXPECT_EQ(reading.partfields.size(), 1U);
    ASSERT_EQ(reading.tasks.size(), 1U);
    EXPECT_EQ(reading.tasks[0].partfield, "Long Acre");
    expect_said(refusal({files[0], files[1]}),
                "taskdata.xml:1, XFR A: there is no file TSK00001.XML. send it with the others");
    expect_said(refusal({files[0], files[1], {"TSK00001.XML", "<TSK/>"}}), "it begins with XFC");
    expect_said(refusal({{"taskdata.xml",
                          "<ISO11783_TaskData><XFR A=\"PFD00001\" B=\"1\"/>"
                          "<XFR A=\"pfd00001\" B=\"1\"/></ISO11783_TaskData>"},
                         files[1]}),
                "named twice");
}

TEST(TaskData, AGridMayHaveAZoneForEachCell) {
    const auto reading = read(
        {task_data_with(task("<GRD A=\"53.1\" B=\"8.2\" C=\"0.001\" D=\"2.0E-3\" E=\"3\" F=\"2\" "
                             "G=\"GRD00001\" I=\"1\"/>")),
         {"TASKDATA/GRD00001.BIN", std::string("\x01\x02\x01\x00\xfe\x02", 6)}});
    ASSERT_EQ(reading.tasks.at(0).grids.size(), 1U);
    const auto& grid = reading.tasks[0].grids[0];
    EXPECT_EQ(grid.columns, 3U);
    EXPECT_EQ(grid.rows, 2U);
    const std::vector<std::uint8_t> codes{1, 2, 1, 0, 254, 2};
    EXPECT_EQ(grid.zone_codes, codes);
    const auto middle = grid.middle(2, 1);
    EXPECT_DOUBLE_EQ(middle.latitude_deg, 53.1015);
    EXPECT_DOUBLE_EQ(middle.longitude_deg, 8.205);
}

TEST(TaskData, AGridMayHaveValuesForEachCell) {
    const auto cells = RecordBytes().number(4, 1389).number(4, 90).number(4, 1806).number(4, -5);
    const auto* grid_element =
        "<GRD A=\"53.1\" B=\"8.2\" C=\"0.001\" D=\"0.002\" E=\"2\" F=\"1\" "
        "G=\"GRD00001\" I=\"2\" J=\"7\"/>";
    // The grid may stand before the zone that says what it has values of.
    const auto reading = read({task_data_with(task(grid_element + std::string(kValueZone))),
                               {"TASKDATA/GRD00001.BIN", cells.text()}});
    ASSERT_EQ(reading.tasks.at(0).grids.size(), 1U);
    const auto& grid = reading.tasks[0].grids[0];
    const std::vector<std::uint16_t> identifiers{396, 61};
    EXPECT_EQ(grid.identifiers, identifiers);
    const std::vector<std::int32_t> steps{1389, 90, 1806, -5};
    EXPECT_EQ(grid.steps, steps);

    expect_said(refusal({task_data_with(task(grid_element)), {"TASKDATA/GRD00001.BIN", ""}}),
                "GRD J: the task has no zone 7");
    expect_said(refusal({task_data_with(task(grid_element + std::string("<TZN A=\"7\"/>"))),
                         {"TASKDATA/GRD00001.BIN", ""}}),
                "GRD J: zone 7 has no values");
    expect_said(refusal({task_data_with(task(grid_element + std::string(kValueZone))),
                         {"TASKDATA/GRD00001.BIN", cells.text().substr(1)}}),
                "TASKDATA/GRD00001.BIN: the grid's file has 15 bytes; 1 by 2 cells with 8 "
                "bytes each want 16. copy the file again");
    expect_said(refusal({task_data_with(task(grid_element + std::string(kValueZone)))}),
                "GRD G: there is no file TASKDATA/GRD00001.BIN");
    expect_said(
        refusal({task_data_with(task(grid_element + std::string(grid_element) + kValueZone)),
                 {"TASKDATA/GRD00001.BIN", cells.text()}}),
        "GRD G: the file GRD00001 is named twice");
}

TEST(TaskData, ProblemsSayFileLineElementAndAttribute) {
    EXPECT_EQ(
        refusal_of(boundary(ring_element(1, {{"53.1", "8.2"}, {"195", "8.3"}, {"53,2", "8"}}))),
        "TASKDATA/TASKDATA.XML:3, PNT C: '195' is out of place. write a number from -90 to 90, "
        "with a point for decimals\n"
        "TASKDATA/TASKDATA.XML:3, PNT C: '53,2' is out of place. write a number from -90 to "
        "90, with a point for decimals\n");
    expect_said(refusal_of(boundary("<LSG A=\"1\"><PNT A=\"2\" C=\"\"/></LSG>")),
                "PNT C: it is empty. the standard wants it");
    expect_said(refusal_of(boundary("<LSG A=\"1\"><PNT A=\"2\" C=\"1\"/></LSG>")),
                "PNT D: it is not there");
    expect_said(refusal_of(boundary("<LSG A=\"1\"><PNT C=\"1\" D=\"1\"/></LSG>")),
                "LSG: a ring of 1 corner goes round nothing");
    expect_said(refusal_of(boundary(triangle_element(2))), "PLN: the polygon has no outer ring");
    expect_said(refusal_of(partfield("<PLN/>")), "PLN A: it is not there");
    expect_said(refusal_of(task("<TZN A=\"255\"/>")), "TZN A: '255' is out of place");
    expect_said(refusal_of(task("<TZN A=\"1\"/><TZN A=\"1\"/>")), "two zones of the code 1");
    expect_said(refusal_of(task("<TZN A=\"1\"><PDV A=\"00G0\" B=\"1\"/></TZN>")),
                "PDV A: '00G0' is no data identifier. write its number with four hexadecimal");
    expect_said(refusal_of(task("<TZN A=\"1\"><PDV A=\"0001\" B=\"2147483648\"/></TZN>")),
                "PDV B: '2147483648' is out of place");
    expect_said(refusal_of(task("<TLG A=\"../../TLG\" C=\"1\"/>")),
                "TLG A: '../../TLG' is no name of such a file. write TLG and five digits");
    expect_said(refusal_of(task("<GRD A=\"1\" B=\"1\" C=\"2\" D=\"0\" E=\"0\" F=\"x\" G=\"GRD1\" "
                                "I=\"3\"/>")),
                "GRD I: '3' is out of place");
    expect_said(refusal_of(task("<GRD A=\"1\" B=\"1\" C=\"0.1\" D=\"0.1\" E=\"100000\" "
                                "F=\"100000\" G=\"GRD00001\" I=\"1\"/>")),
                "GRD E: the grid has 10000000000 cells");
    expect_said(refusal_of("<TSK A=\"TSK1\" G=\"1\" H=\"none\"/>"),
                "TSK H: 'none' is out of place");
}

TEST(TaskData, RingsAreLookedThroughAsOtherBordersAre) {
    const auto crossing =
        ring_element(1, {{"53.1", "8.2"}, {"53.11", "8.21"}, {"53.1", "8.21"}, {"53.11", "8.2"}});
    expect_said(refusal_of(boundary(crossing)),
                "TASKDATA/TASKDATA.XML:3, PFD: the border crosses itself or another of its rings "
                "at 53.105000, 8.205000. put its corners in the order");
    expect_said(refusal_of(task("<TZN A=\"1\"><PLN A=\"2\">" + crossing + "</PLN></TZN>")),
                "TZN: the border crosses itself");
    expect_said(refusal_of(boundary(ring_element(1, {{"0", "0"}, {"0", "0.01"}, {"0.01", "0"}}))),
                "PFD: corner 1 of the outer ring is at latitude 0, longitude 0");
    // Of a ring with north and east swapped, one corner is told.
    EXPECT_EQ(refusal_of(boundary(
                  ring_element(1, {{"-98.2", "39.1"}, {"-98.21", "39.1"}, {"-98.2", "39.2"}}))),
              "TASKDATA/TASKDATA.XML:3, PNT C: '-98.2' is no latitude. C (north) and D (east) are "
              "probably swapped: write the latitude as C, the longitude as D\n");
}

TEST(TaskData, RingsRunAsTheyShould) {
    const auto reading = read({task_data_with(
        boundary(ring_element(1, {{"53.1", "8.2"}, {"53.2", "8.2"}, {"53.1", "8.3"}}) +
                 ring_element(2, {{"53.11", "8.21"}, {"53.11", "8.22"}, {"53.12", "8.21"}})))});
    ASSERT_EQ(reading.partfields.size(), 1U);
    const ground::Area area{
        {{{53.1, 8.3}, {53.2, 8.2}, {53.1, 8.2}}, {{{53.12, 8.21}, {53.11, 8.22}, {53.11, 8.21}}}}};
    EXPECT_EQ(reading.partfields[0].area, area);
    EXPECT_TRUE(reading.notes.empty());  // the standard has no order of its own
}

TEST(TaskData, AZoneMayBeSmallerThanAField) {
    // 11 m by 7 m, halved.
    const auto small = ring_element(1, {{"53.1", "8.2"}, {"53.1", "8.2001"}, {"53.1001", "8.2"}});
    EXPECT_EQ(read({task_data_with(task("<TZN A=\"1\"><PLN A=\"2\">" + small + "</PLN></TZN>"))})
                  .tasks.at(0)
                  .zones.at(0)
                  .area.size(),
              1U);
    expect_said(refusal_of(boundary(small)), "less than a machine can turn on");
}

TEST(TaskData, WhatIsNotItIsRefused) {
    expect_said(refusal({}), "there is no file TASKDATA.XML");
    expect_said(refusal({{"NOTASKDATA.XML", ""}}), "there is no file TASKDATA.XML");
    expect_said(refusal({task_data_with(""), {"copy/taskdata.xml", ""}}),
                "there is another file TASKDATA.XML");
    expect_said(refusal({task_data_with(""), {"a.bin", ""}, {"A.BIN", ""}}),
                "A.BIN: another file has this name");
    expect_said(refusal({{"TASKDATA.XML", "<html/>"}}), "html: this is no task data");
    expect_said(refusal({{"TASKDATA.XML", "<html>"}}), "this is no whole XML");
}

TEST(TaskData, AnArchivesProblemsNameIt) {
    const auto zip = write_zip(std::vector{task_data_with(task("<TZN/>"))});
    ASSERT_TRUE(zip.ok());
    const auto reading = read_task_data_zip(*zip, "from_the_cab.zip");
    ASSERT_FALSE(reading.ok());
    EXPECT_EQ(reading.problems().front().where.file, "from_the_cab.zip/TASKDATA/TASKDATA.XML");
    EXPECT_FALSE(read_task_data_zip("PK", "from_the_cab.zip").ok());
}

}  // namespace
}  // namespace beetwright::maps
