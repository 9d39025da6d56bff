#pragma once
// Everything that a program outside this library may build on, in one include. Headers that these include are
// installed with them; everything else is internal and may change from one version to the next.
//
//   model    what is written: by hand, or read from a text          network/model.h, input/read_model.h
//   system   a model resolved, or findings that say what is wrong   network/system.h, network/change.h
//   state    its steady flow, recomputed by the proof               steady/state.h, proof/check.h
//   air      whether it starts, and where air is in the way         air/line_air.h
//   filling  tanks over time, a year, emptying a section            filling/fill.h, year.h, drain_down.h
//   verdict  whether it works, in one sentence, with findings       verdict/flow_verdict.h, fill_verdict.h
//   report   the same as text and JSON                              report/text.h, json.h, fill.h, year.h
//   springs, works   yields and the works at the spring             springs/, works/
#include "runnel/air/line_air.h"
#include "runnel/filling/drain_down.h"
#include "runnel/filling/fill.h"
#include "runnel/filling/year.h"
#include "runnel/input/read_model.h"
#include "runnel/network/change.h"
#include "runnel/network/system.h"
#include "runnel/pipes/catalogue.h"
#include "runnel/proof/check.h"
#include "runnel/report/emptying.h"
#include "runnel/report/fill.h"
#include "runnel/report/json.h"
#include "runnel/report/text.h"
#include "runnel/report/year.h"
#include "runnel/springs/bucket_yield.h"
#include "runnel/springs/dry_year.h"
#include "runnel/springs/recession.h"
#include "runnel/springs/yield_log.h"
#include "runnel/steady/state.h"
#include "runnel/units/parse.h"
#include "runnel/units/print.h"
#include "runnel/verdict/fill_verdict.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/works/chlorine.h"
#include "runnel/works/layers.h"
#include "runnel/works/seepage.h"
#include "runnel/works/settling.h"
