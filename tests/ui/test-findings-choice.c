/* What the findings are about, without a window. */
#include "config.h"

#include <math.h>

#include "tpt-findings-choice.h"

#define UTC_DAY(days) ((TptInstant) (days) * TPT_DAY)

static const TptRange march = { UTC_DAY (20513), UTC_DAY (20544) };
static const TptRange april = { UTC_DAY (20544), UTC_DAY (20574) };
static const TptRange no_range = { TPT_NO_INSTANT, TPT_NO_INSTANT };

typedef struct {
  guint n;
  guint parts;
} Heard;

static void
changed_cb (TptFindingsChoice *choice, guint parts, gpointer data)
{
  Heard *heard = data;

  heard->n++;
  heard->parts = parts;
}

static TptFindingsChoice *
make_choice (Heard *heard)
{
  TptFindingsChoice *choice = tpt_findings_choice_new ();

  *heard = (Heard) { 0 };
  g_signal_connect (choice, "changed", G_CALLBACK (changed_cb), heard);
  return choice;
}

static void
test_stations (void)
{
  /* What is added to what, sorted, and what comes out; "" for all. */
  static const struct {
    const char *codes;
    gboolean add;
    const char *chosen;
    gboolean told;
  } steps[] = {
    { "B", FALSE, "B", TRUE },     { "B", FALSE, "B", FALSE },  { "A", TRUE, "A,B", TRUE },
    { "A", TRUE, "B", TRUE },      { "C,A,B", TRUE, "A,B,C", TRUE }, { "B,A", FALSE, "A,B", TRUE },
    { "A,B", TRUE, "A,B", FALSE }, { "A", TRUE, "B", TRUE },    { "B", TRUE, "", TRUE },
    { "", FALSE, "", FALSE },
  };
  Heard heard;
  g_autoptr (TptFindingsChoice) choice = make_choice (&heard);

  for (gsize i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      g_auto (GStrv) codes = g_strsplit (steps[i].codes, ",", -1);
      g_autofree char *chosen = NULL;
      guint before = heard.n;

      tpt_findings_choice_set_stations (choice, (const char *const *) codes, steps[i].add);
      if (tpt_findings_choice_get_stations (choice) != NULL)
        chosen = g_strjoinv (",", (GStrv) tpt_findings_choice_get_stations (choice));
      g_assert_cmpstr (chosen != NULL ? chosen : "", ==, steps[i].chosen);
      g_assert_cmpuint (heard.n, ==, before + steps[i].told);
    }
  g_assert_cmpuint (heard.parts, ==, TPT_PART_STATIONS);
}

static void
test_hours (void)
{
  static const struct {
    double from, to;
    int minute_from, minute_to; /* of the filter; -1 for any */
  } cases[] = {
    { 17, 20, 1020, 1200 }, { 22.25, 3.5, 1335, 210 }, { 18, 24, 1080, 0 }, { 0, 6, 0, 360 },
    { 0, 24, -1, -1 },      { NAN, NAN, -1, -1 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptFindingsChoice) choice = tpt_findings_choice_new ();
      g_autoptr (TptFilter) filter = NULL, without = NULL;

      tpt_findings_choice_set_hours (choice, cases[i].from, cases[i].to, TRUE);
      filter = tpt_findings_choice_make_filter (choice, TPT_PART_NONE);
      without = tpt_findings_choice_make_filter (choice, TPT_PART_HOURS);
      g_assert_cmpint (filter->hour_from, ==, cases[i].minute_from);
      g_assert_cmpint (filter->hour_to, ==, cases[i].minute_to);
      g_assert_cmpint (filter->hours_by_sun, ==, cases[i].minute_from >= 0);
      g_assert_cmpint (without->hour_from, ==, -1);
      if (cases[i].minute_from < 0)
        continue;
      g_assert_cmpfloat (tpt_findings_choice_get_hour_from (choice), ==, cases[i].from);
      g_assert_cmpfloat (tpt_findings_choice_get_hour_to (choice), ==, cases[i].to);
    }
}

/* Each pane leaves its own part out and keeps the others. */
static void
test_without (void)
{
  Heard heard;
  g_autoptr (TptFindingsChoice) choice = make_choice (&heard);
  const char *const stations[] = { "A", "B", NULL };

  tpt_findings_choice_set_stations (choice, stations, FALSE);
  tpt_findings_choice_set_species (choice, "Helarctos malayanus");
  tpt_findings_choice_set_period (choice, march);
  tpt_findings_choice_set_hours (choice, 17, 20, FALSE);
  g_assert_cmpuint (heard.n, ==, 4);
  g_assert_cmpuint (tpt_findings_choice_get_parts (choice), ==, TPT_PART_ALL & ~TPT_PART_OTHER);
  for (guint without = 0; without < TPT_PART_OTHER; without++)
    {
      g_autoptr (TptFilter) filter = tpt_findings_choice_make_filter (choice, without);

      g_assert_cmpint (filter->stations == NULL, ==, (without & TPT_PART_STATIONS) != 0);
      g_assert_cmpint (filter->species == NULL, ==, (without & TPT_PART_SPECIES) != 0);
      g_assert_cmpint (filter->range.from == TPT_NO_INSTANT, ==, (without & TPT_PART_PERIOD) != 0);
      g_assert_cmpint (filter->hour_from < 0, ==, (without & TPT_PART_HOURS) != 0);
      g_assert_null (tpt_findings_choice_make_other_filter (choice, without));
    }
}

static void
test_species_beside (void)
{
  Heard heard;
  g_autoptr (TptFindingsChoice) choice = make_choice (&heard);
  g_autoptr (TptFilter) other = NULL;

  /* Beside nothing it is what is chosen. */
  tpt_findings_choice_compare_species (choice, "Rusa unicolor");
  g_assert_cmpstr (tpt_findings_choice_get_species (choice), ==, "Rusa unicolor");
  g_assert_cmpint (tpt_findings_choice_get_beside (choice), ==, TPT_BESIDE_NOTHING);
  tpt_findings_choice_compare_species (choice, "Rusa unicolor");
  g_assert_cmpuint (heard.n, ==, 1);

  tpt_findings_choice_set_period (choice, march);
  tpt_findings_choice_compare_species (choice, "Sus barbatus");
  g_assert_cmpint (tpt_findings_choice_get_beside (choice), ==, TPT_BESIDE_SPECIES);
  g_assert_cmpuint (heard.parts, ==, TPT_PART_OTHER);
  other = tpt_findings_choice_make_other_filter (choice, TPT_PART_NONE);
  g_assert_cmpstr (other->species[0], ==, "Sus barbatus");
  g_assert_cmpint (other->range.from, ==, march.from);
  g_assert_null (tpt_findings_choice_make_other_filter (choice, TPT_PART_SPECIES));

  /* A species is not beside itself, and the one that is left is what is chosen. */
  tpt_findings_choice_set_species (choice, "Sus barbatus");
  g_assert_cmpint (tpt_findings_choice_get_beside (choice), ==, TPT_BESIDE_NOTHING);
  tpt_findings_choice_go_back (choice);
  g_assert_cmpint (tpt_findings_choice_get_beside (choice), ==, TPT_BESIDE_SPECIES);
  tpt_findings_choice_clear (choice, TPT_PART_SPECIES);
  g_assert_cmpstr (tpt_findings_choice_get_species (choice), ==, "Sus barbatus");
  g_assert_null (tpt_findings_choice_get_other_species (choice));
}

static void
test_period_beside (void)
{
  Heard heard;
  g_autoptr (TptFindingsChoice) choice = make_choice (&heard);
  g_autoptr (TptFilter) other = NULL;

  tpt_findings_choice_set_species (choice, "Rusa unicolor");
  tpt_findings_choice_compare_species (choice, "Sus barbatus");
  tpt_findings_choice_compare_periods (choice, april, march);
  g_assert_cmpuint (heard.parts, ==, TPT_PART_PERIOD | TPT_PART_OTHER);
  g_assert_cmpint (tpt_findings_choice_get_beside (choice), ==, TPT_BESIDE_PERIOD);
  g_assert_null (tpt_findings_choice_get_other_species (choice));
  other = tpt_findings_choice_make_other_filter (choice, TPT_PART_NONE);
  g_assert_cmpint (other->range.from, ==, march.from);
  g_assert_cmpstr (other->species[0], ==, "Rusa unicolor");
  g_assert_null (tpt_findings_choice_make_other_filter (choice, TPT_PART_PERIOD));

  /* All the time has nothing beside it. */
  tpt_findings_choice_set_period (choice, no_range);
  g_assert_cmpint (tpt_findings_choice_get_beside (choice), ==, TPT_BESIDE_NOTHING);
}

static void
test_back (void)
{
  Heard heard;
  g_autoptr (TptFindingsChoice) choice = make_choice (&heard);

  g_assert_false (tpt_findings_choice_can_go_back (choice));
  tpt_findings_choice_go_back (choice);
  g_assert_cmpuint (heard.n, ==, 0);

  tpt_findings_choice_set_species (choice, "Rusa unicolor");
  tpt_findings_choice_set_period (choice, march);
  tpt_findings_choice_clear (choice, TPT_PART_ALL);
  g_assert_cmpuint (tpt_findings_choice_get_parts (choice), ==, TPT_PART_NONE);

  tpt_findings_choice_go_back (choice);
  g_assert_cmpuint (heard.parts, ==, TPT_PART_SPECIES | TPT_PART_PERIOD);
  g_assert_cmpint (tpt_findings_choice_get_period (choice).from, ==, march.from);
  tpt_findings_choice_go_back (choice);
  g_assert_cmpint (tpt_findings_choice_get_period (choice).from, ==, TPT_NO_INSTANT);
  g_assert_cmpstr (tpt_findings_choice_get_species (choice), ==, "Rusa unicolor");
  tpt_findings_choice_go_back (choice);
  g_assert_false (tpt_findings_choice_can_go_back (choice));

  tpt_findings_choice_set_period (choice, april);
  heard.n = 0;
  tpt_findings_choice_reset (choice);
  g_assert_cmpuint (heard.n, ==, 0);
  g_assert_false (tpt_findings_choice_can_go_back (choice));
  g_assert_cmpuint (tpt_findings_choice_get_parts (choice), ==, TPT_PART_NONE);
}

/* A great many steps cost no more than a great many. */
static void
test_long_past (void)
{
  g_autoptr (TptFindingsChoice) choice = tpt_findings_choice_new ();
  guint back = 0;

  for (gint64 i = 1; i <= 1000; i++)
    tpt_findings_choice_set_period (choice, (TptRange) { UTC_DAY (i), UTC_DAY (i + 1) });
  for (; tpt_findings_choice_can_go_back (choice); back++)
    tpt_findings_choice_go_back (choice);
  g_assert_cmpuint (back, ==, 100);
  g_assert_cmpint (tpt_findings_choice_get_period (choice).from, ==, UTC_DAY (900));
}

static TptInstant
parse (const char *text, TptZone *zone)
{
  return *text != '\0' ? tpt_instant_parse (text, zone, NULL) : TPT_NO_INSTANT;
}

static void
test_a_year_before (void)
{
  static const struct {
    const char *from, *to, *before_from, *before_to;
  } cases[] = {
    { "2026-03-01T00:00", "2026-04-01T00:00", "2025-03-01T00:00", "2025-04-01T00:00" },
    /* Clocks in Berlin go forward on 29 March 2026 and on 30 March 2025 (last Sundays; directive 2000/84/EC). */
    { "2026-03-29T00:00", "2026-03-30T00:00", "2025-03-29T00:00", "2025-03-30T00:00" },
    { "2024-02-29T00:00", "2024-03-01T00:00", "2023-02-28T00:00", "2023-03-01T00:00" },
    { "2025-02-28T12:30", "", "2024-02-28T12:30", "" },
    { "", "", "", "" },
  };
  g_autoptr (TptZone) zone = tpt_zone_new ("Europe/Berlin", NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      TptRange before = tpt_findings_shift_years ((TptRange) { parse (cases[i].from, zone), parse (cases[i].to, zone) }, -1, zone);

      g_assert_cmpint (before.from, ==, parse (cases[i].before_from, zone));
      g_assert_cmpint (before.to, ==, parse (cases[i].before_to, zone));
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/ui/findings-choice/stations", test_stations);
  g_test_add_func ("/ui/findings-choice/hours", test_hours);
  g_test_add_func ("/ui/findings-choice/without", test_without);
  g_test_add_func ("/ui/findings-choice/species-beside", test_species_beside);
  g_test_add_func ("/ui/findings-choice/period-beside", test_period_beside);
  g_test_add_func ("/ui/findings-choice/back", test_back);
  g_test_add_func ("/ui/findings-choice/long-past", test_long_past);
  g_test_add_func ("/ui/findings-choice/a-year-before", test_a_year_before);
  return g_test_run ();
}
