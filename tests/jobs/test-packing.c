#include "config.h"

#include "jobs-fixture.h"
#include "tpt-job-due.h"

/* Every unit runs dry long before the round; which cells each takes and what
 * the shelf holds is the whole of the matter. The rules are common practice, no
 * source: throw-away cells are replaced, packs that are recharged are swapped. */
#define STATIONS 4

static void
put_stations (JobsFixture *f)
{
  for (guint i = 1; i <= STATIONS; i++)
    {
      g_autofree char *station = g_strdup_printf ("S%u", i), *code = g_strdup_printf ("D%u", i);

      PUT (TPT_TABLE_STATIONS, "station", station);
      PUT (TPT_TABLE_DEPLOYMENTS, "deployment", code, "station", station, "start", "2026-01-01T00:00:00Z", "frames_per_trigger", "1",
           "frame_mb", "5");
    }
}

/* @rig: "1 camera alkaline AA 4x2" puts such a unit at station 1, which is dry
 * in days; "1 card" a card that is full; a leading 0 leaves it on the shelf. */
static void
put_unit (JobsFixture *f, guint number, const char *rig)
{
  g_auto (GStrv) words = g_strsplit (rig, " ", -1);
  g_autofree char *unit = g_strdup_printf ("U%02u", number), *code = g_strdup_printf ("D%s", words[0]);
  gboolean card = g_str_equal (words[1], "card");
  g_auto (GStrv) cells = card ? NULL : g_strsplit (words[4], "x", 2);

  if (card)
    PUT (TPT_TABLE_UNITS, "unit", unit, "kind", "card", "capacity_gb", "0.005");
  else
    PUT (TPT_TABLE_UNITS, "unit", unit, "kind", words[1], "chemistry", words[2], "cell_size", g_str_equal (words[3], "-") ? "" : words[3],
         "cells_series", cells[0], "cells_parallel", cells[1], "cell_mah", "10", "sleep_ma", "10");
  if (*words[0] != '0')
    PUT (TPT_TABLE_FITTINGS, "deployment", code, "unit", unit, "from", "2026-01-01T00:00:00Z");
}

/* "cells AA alkaline 36", "card - - 2" */
static void
put_stock (JobsFixture *f, guint number, const char *stock)
{
  g_auto (GStrv) words = g_strsplit (stock, " ", -1);
  g_autofree char *item = g_strdup_printf ("I%02u", number);

  PUT (TPT_TABLE_STOCK, "item", item, "what", words[0], "cell_size", g_str_equal (words[1], "-") ? "" : words[1], "chemistry",
       g_str_equal (words[2], "-") ? "" : words[2], "pieces", words[3]);
}

static TptJobDue *
ask (JobsFixture *f)
{
  TptJobDue *job = tpt_job_due_new (at ("2026-02-01T00:00:00Z"), at ("2026-02-14T00:00:00Z"));

  jobs_run (f, job);
  return job;
}

/* "cells AA alkaline 0 48 36; card - - 0 4 2": what, size, chemistry, series, needed, on the shelf */
static char *
tell (GArray *items)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < items->len; i++)
    {
      const TptPackItem *item = &g_array_index (items, TptPackItem, i);

      g_string_append_printf (text, "%s%s %s %s %d %u %u", i == 0 ? "" : "; ", item->what, item->size != NULL ? item->size : "-",
                              item->chemistry != NULL ? item->chemistry : "-", item->series, item->needed, item->on_shelf);
    }
  return g_string_free (text, FALSE);
}

static void
test_lists (JobsFixture *unused, gconstpointer data)
{
  static const struct {
    const char *what;
    const char *units[6];
    const char *stock[4];
    const char *items;
    const char *bring;
  } cases[] = {
    { "cells by size, the shelf too small", { "1 camera alkaline AA 4x3", "2 camera alkaline AA 4x6", "3 flash alkaline AA 12x1" },
      { "cells AA alkaline 30", "cells AA alkaline 6", "cells C alkaline 90" },
      "cells AA alkaline 0 48 36", "Bring 48 AA (36 AA on the shelf)" },
    { "enough on the shelf goes without saying", { "1 camera alkaline D 4x1" }, { "cells D alkaline 4" },
      "cells D alkaline 0 4 4", "Bring 4 D" },
    { "no stock is counted here", { "1 camera alkaline D 4x1" }, { "tape - - 4" },
      "cells D alkaline 0 4 0", "Bring 4 D" },
    { "another size is of no use", { "1 camera alkaline D 4x1" }, { "cells AA alkaline 40" },
      "cells D alkaline 0 4 0", "Bring 4 D (none on the shelf)" },
    { "nor is another chemistry", { "1 camera lithium AA 4x1" }, { "cells AA alkaline 40" },
      "cells AA lithium 0 4 0", "Bring 4 lithium iron disulphide AA (none on the shelf)" },
    { "two chemistries of one size", { "1 camera alkaline AA 4x1", "2 camera nimh AA 8x1" }, { "cells AA nimh 6" },
      "cells AA alkaline 0 4 0; cells AA nimh 0 8 6", "Bring 4 alkaline AA (none on the shelf), 8 NiMH AA (6 AA on the shelf)" },
    { "size not on record", { "1 camera alkaline - 8x1" }, { "cells AA alkaline 6" },
      "cells - alkaline 0 8 6", "Bring 8 alkaline cells (6 on the shelf)" },
    { "numbers keep apart", { "1 trigger alkaline 9V 1x1", "2 flash li-ion 18650 2x1" }, { NULL },
      "cells 9V alkaline 0 1 0; cells 18650 li-ion 0 2 0", "Bring 1 × 9V, 2 Li-ion 18650" },
    { "a spare pack is swapped whole, the next one’s cells are not", { "1 pack nimh D 8x1", "2 pack nimh D 8x2", "0 pack nimh D 8x1" },
      { "cells D nimh 20" }, "cells D nimh 0 16 20; pack D nimh 8 1 1", "Bring 16 NiMH D, 1 NiMH pack of 8 cells" },
    { "a spare pack of other volts is none", { "1 pack nimh D 8x1", "0 pack nimh D 10x1" }, { NULL },
      "cells D nimh 0 8 0", "Bring 8 NiMH D" },
    { "a camera’s own cells are no pack", { "1 camera nimh AA 8x1", "0 pack nimh AA 8x1" }, { NULL },
      "cells AA nimh 0 8 0", "Bring 8 NiMH AA" },
    { "throw-away cells of a pack are cells", { "1 pack alkaline D 8x1", "0 pack alkaline D 8x1" }, { NULL },
      "cells D alkaline 0 8 0", "Bring 8 D" },
    { "sealed packs are brought whole", { "1 pack lead-acid - 6x1", "2 pack lead-acid - 6x1", "3 pack li-ion 18650 3x2", "0 pack lead-acid block 6x1" },
      { "cells 18650 li-ion 40" },
      "pack 18650 li-ion 3 1 0; pack - lead-acid 6 2 1",
      "Bring 1 Li-ion pack of 3 cells (none on the shelf), 2 sealed lead-acid packs of 6 cells (1 on the shelf)" },
    { "cards, loose and as units", { "1 card", "2 card", "3 card", "0 card" }, { "card - - 1" },
      "card - - 0 3 2", "Bring 3 cards (2 on the shelf)" },
    { "cells before packs before cards", { "1 card", "1 camera alkaline AA 4x1", "1 pack lead-acid - 6x1" }, { NULL },
      "cells AA alkaline 0 4 0; pack - lead-acid 6 1 0; card - - 0 1 0", "Bring 4 AA, 1 sealed lead-acid pack of 6 cells, 1 card" },
    { "nothing", { NULL }, { "card - - 1" }, "", "" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      JobsFixture own, *f = &own;
      g_autoptr (TptJobDue) job = NULL;
      g_autofree char *items = NULL;

      jobs_set_up (f, NULL);
      put_stations (f);
      for (guint u = 0; cases[i].units[u] != NULL; u++)
        put_unit (f, u, cases[i].units[u]);
      for (guint s = 0; cases[i].stock[s] != NULL; s++)
        put_stock (f, s, cases[i].stock[s]);
      job = ask (f);
      items = tell (tpt_job_due_get_packing (job));
      g_test_message ("%s: %s", cases[i].what, items);
      g_assert_cmpstr (items, ==, cases[i].items);
      g_assert_cmpstr (tpt_job_due_get_bring (job), ==, cases[i].bring);
      jobs_tear_down (f, NULL);
    }
}

/* Which units lie on the shelf at the moment of asking. */
static void
test_shelf (JobsFixture *unused, gconstpointer data)
{
  static const struct {
    const char *what;
    const char *retired;
    const char *from, *to; /* fitted at station 4, whose rig stood until 20 January */
    guint spare;
  } cases[] = {
    { "never fitted", "", NULL, NULL, 1 },
    { "retired", "2026-01-31", NULL, NULL, 0 },
    { "to be retired", "2026-03-01", NULL, NULL, 1 },
    { "taken out of its rig", "", "2026-01-02T00:00:00Z", "2026-01-10T00:00:00Z", 1 },
    { "came in with its rig", "", "2026-01-02T00:00:00Z", "", 1 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      JobsFixture own, *f = &own;
      g_autoptr (TptJobDue) job = NULL;
      const TptPackItem *item;

      jobs_set_up (f, NULL);
      put_stations (f);
      put_unit (f, 1, "1 pack lead-acid - 6x1");
      PUT (TPT_TABLE_UNITS, "unit", "P", "kind", "pack", "chemistry", "lead-acid", "cells_series", "6", "retired", cases[i].retired);
      if (cases[i].from != NULL)
        PUT (TPT_TABLE_FITTINGS, "deployment", "D4", "unit", "P", "from", cases[i].from, "to", cases[i].to);
      jobs_import (f, "deployment,station,start,end\nD4,S4,2026-01-01T00:00:00Z,2026-01-20T00:00:00Z\n");
      job = ask (f);
      g_test_message ("%s", cases[i].what);
      g_assert_cmpuint (tpt_job_due_get_packing (job)->len, ==, 1);
      item = &g_array_index (tpt_job_due_get_packing (job), TptPackItem, 0);
      g_assert_cmpuint (item->on_shelf, ==, cases[i].spare);
      jobs_tear_down (f, NULL);
    }
}

/* One station after another: the one spare pack goes to the first. */
static void
test_by_station (JobsFixture *f, gconstpointer data)
{
  static const char *const own[] = { "pack D nimh 8 1 1", "cells D nimh 0 8 0", "card - - 0 1 0", "" };
  g_autoptr (TptJobDue) job = NULL;
  g_autoptr (TptPacking) packing = NULL;
  g_autofree char *whole = NULL;

  put_stations (f);
  put_unit (f, 1, "1 pack nimh D 8x1");
  put_unit (f, 2, "2 pack nimh D 8x1");
  put_unit (f, 3, "0 pack nimh D 8x1");
  put_unit (f, 4, "3 card");
  job = ask (f);
  packing = tpt_job_due_begin_packing (job);
  for (guint code = 1; code <= STATIONS; code++)
    for (guint i = 0; i < STATIONS; i++)
      {
        g_autoptr (TptStationItem) item = g_list_model_get_item (tpt_job_due_get_stations (job), i);
        g_autoptr (GArray) items = NULL;
        g_autofree char *told = NULL;

        if (tpt_station_item_get_code (item)[1] != (char) ('0' + code))
          continue;
        items = tpt_packing_add (packing, item);
        told = tell (items);
        g_assert_cmpstr (told, ==, own[code - 1]);
      }
  whole = tell (tpt_packing_get_items (packing));
  g_assert_cmpstr (whole, ==, "cells D nimh 0 8 0; pack D nimh 8 1 1; card - - 0 1 0");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  ADD ("/packing/lists", test_lists);
  ADD ("/packing/shelf", test_shelf);
  ADD ("/packing/by-station", test_by_station);
  return g_test_run ();
}
