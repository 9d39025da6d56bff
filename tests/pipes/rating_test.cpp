// Ratings by formula against printed ratings, and what warm water leaves of them.
#include "runnel/pipes/rating.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "runnel/pipes/catalogue.h"
#include "runnel/pipes/factors.h"

using namespace runnel;
using namespace runnel::pipes;

namespace {

const Pipe& pipe(const char* name) {
  const Pipe* found = standard_catalogue().find(name);
  INFO(name);
  REQUIRE(found != nullptr);
  return *found;
}

Approx near(double value, double margin) { return Approx(value).epsilon(0.0).margin(margin); }

}  // namespace

TEST_CASE("PVC by wall: the formula gives the ratings printed after ASTM D1785") {
  // Design stress 2000 psi; printed ratings are rounded to 10 psi, once by 5 the other way (375.0 is printed
  // 370), hence the margin of 6 psi [astm-d1785] FOUND.
  for (const Pipe& p : standard_catalogue().pipes()) {
    if (p.standard != "ASTM D1785") continue;
    INFO(p.name);
    CHECK(rating_by_wall(Pressure::psi(2000), p.outside, p.wall).psi() == near(p.rating.psi(), 6.0));
  }
  // The unrounded values, computed from the formula to 0.1 psi.
  CHECK(rating_by_wall(Pressure::psi(2000), pipe("PVC Sch40 2 in").outside, pipe("PVC Sch40 2 in").wall)
            .psi() == near(277.4, 0.05));
  CHECK(rating_by_wall(Pressure::psi(2000), pipe("PVC Sch80 6 in").outside, pipe("PVC Sch80 6 in").wall)
            .psi() == near(279.0, 0.05));
}

TEST_CASE("PVC by ratio: the formula gives the ratings of ASTM D2241") {
  // 200, 160 and 100 psi FOUND; 250 and 126.98 computed and sold as 250 and 125 [astm-d2241].
  CHECK(rating_by_outside_ratio(Pressure::psi(2000), 17).psi() == near(250.0, 1e-9));
  CHECK(rating_by_outside_ratio(Pressure::psi(2000), 21).psi() == near(200.0, 1e-9));
  CHECK(rating_by_outside_ratio(Pressure::psi(2000), 26).psi() == near(160.0, 1e-9));
  CHECK(rating_by_outside_ratio(Pressure::psi(2000), 41).psi() == near(100.0, 1e-9));
  CHECK(rating_by_outside_ratio(Pressure::psi(2000), 32.5).psi() == near(126.98, 0.005));
  CHECK(rating_by_outside_ratio(Pressure::psi(2000), 13.5).psi() == near(320.0, 1e-9));  // sold as 315
  CHECK(pipe("PVC SDR13.5 1 in").rating.psi() == near(315.0, 1e-9));
  CHECK(pipe("PVC SDR32.5 3 in").rating.psi() == near(125.0, 1e-9));
}

TEST_CASE("polyethylene by ratio: PE4710 and PE3608") {
  // 160, 200, 250 and 333 psi for PE4710 FOUND, the others computed [astm-d3035]; printed to 1 psi.
  struct Row {
    const char* name;
    double stress, ratio;
  };
  for (const Row& r : {Row{"PE4710 DR7 1 in", 1000, 7},
                       {"PE4710 DR9 1 in", 1000, 9},
                       {"PE4710 DR11 1 in", 1000, 11},
                       {"PE4710 DR13.5 1 in", 1000, 13.5},
                       {"PE4710 DR17 2 in", 1000, 17},
                       {"PE4710 DR21 2 in", 1000, 21},
                       {"PE3608 DR7 1 in", 800, 7},
                       {"PE3608 DR9 1 in", 800, 9},
                       {"PE3608 DR11 1 in", 800, 11},
                       {"PE3608 DR13.5 1 in", 800, 13.5},
                       {"PE3608 DR17 2 in", 800, 17},
                       {"PE3608 DR21 2 in", 800, 21}}) {
    INFO(r.name);
    CHECK(rating_by_outside_ratio(Pressure::psi(r.stress), r.ratio).psi() ==
          near(pipe(r.name).rating.psi(), 0.5));
  }
}

TEST_CASE("polyethylene by inside ratio: 2 S / (SIDR + 1)") {
  // Computed from the rule [astm-d2239]: 250/200/160/125/100 and 200/160/128/100/80 psi.
  for (const char* ratio : {"7", "9", "11.5", "15", "19"}) {
    INFO(ratio);
    const double value = std::stod(ratio);
    const std::string tail = std::string(" SIDR") + ratio + " 1 in";
    CHECK(rating_by_inside_ratio(Pressure::psi(1000), value).psi() ==
          near(pipe(("PE4710" + tail).c_str()).rating.psi(), 1e-9));
    CHECK(rating_by_inside_ratio(Pressure::psi(800), value).psi() ==
          near(pipe(("PE3608" + tail).c_str()).rating.psi(), 1e-9));
  }
}

TEST_CASE("metric polyethylene: nominal pressure from strength and ratio") {
  // MRS 10 MPa, C = 1.25 FOUND; 25, 20, 16, 12.70, 10, 8, 6.4 bar computed [iso-4427-1].
  const auto pn = [](double sdr) { return nominal_pressure(Pressure::bar(100), 1.25, sdr).bar(); };
  CHECK(pn(7.4) == near(25.0, 1e-9));
  CHECK(pn(9) == near(20.0, 1e-9));
  CHECK(pn(11) == near(16.0, 1e-9));
  CHECK(pn(13.6) == near(12.70, 0.005));
  CHECK(pn(17) == near(10.0, 1e-9));
  CHECK(pn(21) == near(8.0, 1e-9));
  CHECK(pn(26) == near(6.4, 1e-9));
  CHECK(pipe("PE100 SDR11 32 mm").rating.bar() == near(16.0, 1e-9));
  CHECK(pipe("PE100 SDR17 63 mm").rating.bar() == near(10.0, 1e-9));
}

TEST_CASE("impossible walls and ratios have no rating") {
  CHECK(rating_by_wall(Pressure::psi(2000), Length::inches(1), Length{}).psi() == 0.0);
  CHECK(rating_by_wall(Pressure::psi(2000), Length::inches(1), Length::inches(0.5)).psi() == 0.0);
  CHECK(rating_by_outside_ratio(Pressure::psi(2000), 1.0).psi() == 0.0);
  CHECK(rating_by_inside_ratio(Pressure::psi(2000), 0.0).psi() == 0.0);
}

TEST_CASE("warm PVC: the printed factors and worked examples") {
  // [pvc-maker-data] FOUND: 230 psi pipe at 120 F has 92 psi; 280 psi pipe at 140 F has 62 (61.6).
  Pipe p = pipe("PVC Sch80 6 in");
  CHECK(rating_at(p, Temperature::fahrenheit(140)).psi() == near(61.6, 1e-6));
  p.rating = Pressure::psi(230);
  CHECK(rating_at(p, Temperature::fahrenheit(120)).psi() == near(92.0, 1e-6));
  const double printed[][2] = {{73, 1.00},  {80, 0.88},  {90, 0.75},  {100, 0.62},
                               {110, 0.51}, {120, 0.40}, {130, 0.31}, {140, 0.22}};
  for (const auto& row : printed) {
    INFO(row[0]);
    CHECK(temperature_factor("pvc", Temperature::fahrenheit(row[0])) == near(row[1], 1e-9));
  }
  CHECK(temperature_factor("pvc", Temperature::fahrenheit(85)) == near(0.815, 1e-9));  // halfway, straight
}

TEST_CASE("warm polyethylene: straight in the inverse absolute temperature") {
  // Multipliers remembered from the trade: 0.94 ... 0.50; the four digits are computed by the rule [ppi-tr3].
  const double computed[][2] = {{73, 1.0},     {80, 0.9420},  {90, 0.8616},  {100, 0.7841},
                                {110, 0.7093}, {120, 0.6372}, {130, 0.5674}, {140, 0.5}};
  for (const auto& row : computed) {
    INFO(row[0]);
    CHECK(temperature_factor("pe", Temperature::fahrenheit(row[0])) == near(row[1], 5e-5));
  }
  // ISO PE100, from memory of ISO 4427-1 annex A.
  CHECK(temperature_factor("pe iso", Temperature::celsius(30)) == near(0.87, 1e-9));
  CHECK(temperature_factor("pe iso", Temperature::celsius(40)) == near(0.74, 1e-9));
}

TEST_CASE("cold water raises no rating, too warm water leaves none, no table means no change") {
  const Pipe& p = pipe("PE4710 DR11 1 in");
  CHECK(rating_at(p, Temperature::celsius(5)) == p.rating);
  CHECK(rating_at(p, Temperature::celsius(61)).psi() == 0.0);
  CHECK(temperature_factor("", Temperature::celsius(90)) == 1.0);
  CHECK(temperature_factor("no such table", Temperature::celsius(90)) == 1.0);
  CHECK(rating_at(Pipe{}, Temperature::celsius(10)).psi() == 0.0);
}

TEST_CASE("factors never rise with the temperature") {
  for (const std::string& name : factor_table_names()) {
    double last = 1.0;
    for (double c = -5.0; c < 70.0; c += 0.1) {
      const double now = temperature_factor(name, Temperature::celsius(c));
      CHECK(now <= last);
      last = now;
    }
  }
}

TEST_CASE("wrong tables of factors are refused with a place") {
  const auto bad = [](const std::string& points) {
    const auto out = read_factor_tables(
        "catalogue: temperature factors\ntables: {t: {points: " + points + "}}\n", "f.yaml");
    CHECK_FALSE(out);
    REQUIRE_FALSE(out.findings.empty());
    CHECK(out.findings[0].mark.line == 2);
    return out.findings[0].code;
  };
  CHECK(bad("[[20 degC, 1.0]]") == "missing-key");
  CHECK(bad("[[20 degC, 0.9], [30 degC, 0.8]]") == "bad-factor");
  CHECK(bad("[[20 degC, 1], [10 degC, 0.8]]") == "bad-factor");
  CHECK(bad("[[20 degC, 1], [30, 0.8]]") == "bad-factor");
  CHECK(bad("[[20 degC, 1], [30 degC, 1.1]]") == "bad-factor");
  CHECK(bad("[[20 degC, 1], [30 degC, 0.9]], extra: 1") == "unknown-key");
}

TEST_CASE("72 percent of a rating as a head of water") {
  // Computed from the rule [asae-s376], water of 1000 kg/m3: 6, 10, 16 bar.
  const double rows[][2] = {{6, 44.1}, {10, 73.4}, {16, 117.5}};
  for (const auto& [bar, head_m] : rows)
    CHECK(head_without_surge(Pressure::bar(bar), 1000).metres() == Approx(head_m).margin(0.05));
  // In feet at 2.31 ft a psi, as trade tables have it: 100 and 160 psi. The trade rounds 2.3067 up by 0.15 %.
  CHECK(head_without_surge(Pressure::psi(100), 1000).feet() == Approx(166.3).epsilon(1.7e-3));
  CHECK(head_without_surge(Pressure::psi(160), 1000).feet() == Approx(266.1).epsilon(1.7e-3));
}

TEST_CASE("threaded steel pipe stands what its wall leaves below the threads") {
  // By hand in psi from the formula [asme-b31-1; from memory] with S E = 7200 psi and walls an eighth
  // thinner: 1 in: t - A = 0.116375 - 0.069565, 2 in: 0.13475 - 0.069565, 6 in: 0.245 - 0.1.
  const double rows[][3] = {{1.315, 0.133, 527.6}, {2.375, 0.154, 404.1}, {6.625, 0.280, 320.8}};
  for (const auto& [outside_in, wall_in, psi] : rows)
    CHECK(steel_rating(Length::inches(outside_in), Length::inches(wall_in)).psi() ==
          Approx(psi).epsilon(2e-4));
  CHECK(steel_rating(Length::inches(1.315), Length::inches(0.07)) == Pressure{});  // all cut away
  CHECK(steel_rating(Length::inches(1.315), Length{}) == Pressure{});
  Pipe pipe;
  pipe.material = "galvanized steel";
  pipe.bore = Length::inches(1.049);
  pipe.wall = Length::inches(0.133);
  CHECK(known_rating(pipe).psi() == Approx(527.6).epsilon(2e-4));
  CHECK(rating_at(pipe, Temperature::celsius(10)) == known_rating(pipe));
  pipe.rating = Pressure::psi(100);
  CHECK(known_rating(pipe) == Pressure::psi(100));
  pipe.rating = Pressure{};
  pipe.material = "cast iron";
  CHECK(known_rating(pipe) == Pressure{});
}
