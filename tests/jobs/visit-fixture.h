/* An invented rig with what it takes to serve it, for the tests of visits.
 *
 *   OAK, rig OAK-1 since 1 May: K1 camera, P1 pack, F1 flash, C1 card, H1 housing
 *   ELM, rig ELM-1 since 1 May: C3 card
 *   OAK had an older rig, OAK-0, in March: K1, C2
 *   on the shelf: K2, P2, C2, C5, C9 (retired on 5 May); eight AA, three D, two cards */
#pragma once

#include "jobs-fixture.h"

static inline void
visit_set_up (JobsFixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  jobs_set_up (f, "Asia/Kuching");
  jobs_set (f, "clock_at", "2026-06-12T17:00:00+08:00");
  g_clear_object (&f->project); /* it looks at its clock when it is opened */
  f->project = tpt_project_open (f->path, &error);
  g_assert_no_error (error);
  PUT (TPT_TABLE_STATIONS, "station", "OAK", "name", "Oak bend");
  PUT (TPT_TABLE_STATIONS, "station", "ELM");
  PUT (TPT_TABLE_STATIONS, "station", "FIR");
  jobs_import (f, "unit,kind,chemistry,cell_size,cells_series,cells_parallel,capacity_gb,retired\n"
                  "K1,camera,nimh,AA,2,3,,\nK2,camera,,,,,,\nP1,pack,alkaline,D,4,,,\nP2,pack,alkaline,D,4,,,\n"
                  "F1,flash,lithium,,,,,\nC1,card,,,,,32,\nC2,card,,,,,32,\nC3,card,,,,,32,\nC5,card,,,,,32,\n"
                  "C9,card,,,,,32,2026-05-05\nH1,housing,,,,,,\n");
  jobs_import (f, "deployment,station,start,end\nOAK-0,OAK,2026-03-01T08:00,2026-04-01T08:00\nOAK-1,OAK,2026-05-01T08:00,\n"
                  "ELM-1,ELM,2026-05-01T12:00,\n");
  jobs_import (f, "deployment,unit,from,to\nOAK-0,K1,2026-03-01T08:00,2026-04-01T08:00\n"
                  "OAK-0,C2,2026-03-01T08:00,2026-04-01T08:00\nOAK-1,K1,2026-05-01T08:00,\nOAK-1,P1,2026-05-01T08:00,\n"
                  "OAK-1,F1,2026-05-01T08:00,\nOAK-1,C1,2026-05-01T08:00,\nOAK-1,H1,2026-05-01T08:00,\nELM-1,C3,2026-05-01T12:00,\n");
  jobs_import (f, "item,what,cell_size,chemistry,capacity_gb,pieces\nS1,cells,AA,nimh,,8\nS2,cells,D,alkaline,,3\n"
                  "S3,card,,,32,2\nS4,cells,AA,alkaline,,50\n");
}
