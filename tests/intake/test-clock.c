/* The rules are those of tpt-clock.h. Zone offsets and changes: the IANA time
 * zone database, files `europe` (Bucharest: EU rules, 2025-03-30 and
 * 2025-10-26 at 01:00 UTC) and `asia` (Kuching: +08:00 throughout). The instants
 * were worked out by hand from these. */
#include <glib.h>

#include "tpt-clock.h"

typedef struct {
  const char *name;
  const char *zone;
  const char *start;          /* of the deployment; NULL none */
  double offset_s;            /* of the deployment's clock */
  const char *read;           /* what the camera showed; NULL no pair */
  const char *true_at;
  struct {
    TptTimeSource source;
    const char *reading;      /* NULL: none */
    const char *at;           /* NULL: none */
  } frames[4];
  double clock_offset_s;
} Case;

static const Case cases[] = {
  /* no pair, no offset: the zone's time */
  { "plain", "Asia/Kuching", "2025-05-01T00:00:00Z", 0, NULL, NULL,
    { { TPT_TIME_ORIGINAL, "2025-05-14T07:30:00", "2025-05-13T23:30:00Z" } }, 0 },
  /* no pair: the deployment says the camera is 100 s slow */
  { "slow", "Asia/Kuching", "2025-05-01T00:00:00Z", 100, NULL, NULL,
    { { TPT_TIME_ORIGINAL, "2025-05-14T07:30:00", "2025-05-13T23:31:40Z" } }, 100 },
  /* a part of a second is kept, and so is that of the offset */
  { "sub-second", "Asia/Kuching", "2025-05-01T00:00:00Z", -0.25, NULL, NULL,
    { { TPT_TIME_ORIGINAL, "2025-05-14T07:30:00.5", "2025-05-13T23:30:00.25Z" } }, -0.25 },
  /* with a pair the deployment's offset does not count */
  { "pair", "Asia/Kuching", "2025-05-01T00:00:00Z", 5000, "2025-06-01T12:00:00", "2025-06-01T04:01:40Z",
    { { TPT_TIME_ORIGINAL, "2025-05-14T07:30:00", "2025-05-13T23:31:40Z" } }, 100 },
  /* a clock that was never set: 3774 days and 8 hours off, all the same */
  { "reset", "Asia/Kuching", "2025-05-01T00:00:00Z", 0, "2015-01-29T00:00:00", "2025-05-30T00:00:00Z",
    { { TPT_TIME_ORIGINAL, "2015-01-12T13:30:00", "2025-05-13T13:30:00Z" } }, 326102400 },
  /* clocks go forward during the deployment: the camera's does not */
  { "spring", "Europe/Bucharest", "2025-03-20T10:00:00Z", 0, NULL, NULL,
    { { TPT_TIME_ORIGINAL, "2025-03-30T02:59:00", "2025-03-30T00:59:00Z" },
      { TPT_TIME_ORIGINAL, "2025-03-30T03:30:00", "2025-03-30T01:30:00Z" },
      { TPT_TIME_ORIGINAL, "2025-04-02T12:00:00", "2025-04-02T10:00:00Z" } }, 0 },
  /* the same, read off against the true time after the change: an hour slow */
  { "spring-pair", "Europe/Bucharest", "2025-03-20T10:00:00Z", 0, "2025-04-10T10:00:00", "2025-04-10T08:00:00Z",
    { { TPT_TIME_ORIGINAL, "2025-03-29T23:00:00", "2025-03-29T21:00:00Z" },
      { TPT_TIME_ORIGINAL, "2025-04-02T12:00:00", "2025-04-02T10:00:00Z" } }, 3600 },
  /* clocks go back: the hour that comes twice in the zone comes once here */
  { "autumn", "Europe/Bucharest", "2025-10-01T10:00:00Z", 0, NULL, NULL,
    { { TPT_TIME_ORIGINAL, "2025-10-26T03:30:00", "2025-10-26T00:30:00Z" },
      { TPT_TIME_ORIGINAL, "2025-10-26T04:30:00", "2025-10-26T01:30:00Z" },
      { TPT_TIME_ORIGINAL, "2025-11-02T12:00:00", "2025-11-02T09:00:00Z" } }, 0 },
  /* read off after the change: fast by the hour, and by 30 s */
  { "autumn-pair", "Europe/Bucharest", "2025-10-01T10:00:00Z", 0, "2025-11-05T13:00:30", "2025-11-05T10:00:00Z",
    { { TPT_TIME_ORIGINAL, "2025-10-26T03:30:00", "2025-10-26T00:29:30Z" },
      { TPT_TIME_ORIGINAL, "2025-11-02T12:00:00", "2025-11-02T08:59:30Z" } }, -3630 },
  /* no start known: the zone as at the first reading */
  { "no-start", "Europe/Bucharest", NULL, 0, NULL, NULL,
    { { TPT_TIME_ORIGINAL, "2025-10-20T12:00:00", "2025-10-20T09:00:00Z" },
      { TPT_TIME_ORIGINAL, "2025-11-02T12:00:00", "2025-11-02T09:00:00Z" } }, 0 },
  /* the camera tells its offset, and is believed */
  { "told", "Asia/Kuching", "2025-05-01T00:00:00Z", 0, NULL, NULL,
    { { TPT_TIME_ORIGINAL, "2025-05-14T07:30:00+07:00", "2025-05-14T00:30:00Z" } }, 0 },
  /* wrong throughout: with a pair it cancels out */
  { "told-wrong", "Asia/Kuching", "2025-05-01T00:00:00Z", 0, "2025-06-01T12:00:00", "2025-06-01T04:00:00Z",
    { { TPT_TIME_ORIGINAL, "2025-05-14T07:30:00+00:00", "2025-05-13T23:30:00Z" } }, 0 },
  /* told by some: the others take that of the nearest by the clock */
  { "told-by-some", "Asia/Kuching", "2025-05-01T00:00:00Z", 0, NULL, NULL,
    { { TPT_TIME_ORIGINAL, "2025-05-14T07:00:00", "2025-05-14T00:00:00Z" },
      { TPT_TIME_ORIGINAL, "2025-05-14T07:30:00+07:00", "2025-05-14T00:30:00Z" },
      { TPT_TIME_ORIGINAL, "2025-05-14T08:00:00", "2025-05-14T01:00:00Z" } }, 0 },
  /* a camera that follows daylight saving says so in every frame; the pair
   * belongs to the frames near it */
  { "told-differently", "Europe/Bucharest", "2025-10-01T10:00:00Z", 0, "2025-11-05T12:00:00",
    "2025-11-05T10:00:10Z",
    { { TPT_TIME_ORIGINAL, "2025-10-26T03:30:00+03:00", "2025-10-26T00:30:10Z" },
      { TPT_TIME_ORIGINAL, "2025-10-26T03:30:00+02:00", "2025-10-26T01:30:10Z" },
      { TPT_TIME_ORIGINAL, "2025-11-02T12:00:00", "2025-11-02T10:00:10Z" } }, 10 },
  /* only the file's time, which is an instant already */
  { "file", "Asia/Kuching", "2025-05-01T00:00:00Z", 60, NULL, NULL,
    { { TPT_TIME_FILE, "2025-05-13T23:30:00Z", "2025-05-13T23:31:00Z" } }, 60 },
  { "file-pair", "Asia/Kuching", "2025-05-01T00:00:00Z", 0, "2025-06-01T12:00:00", "2025-06-01T04:01:40Z",
    { { TPT_TIME_FILE, "2025-05-13T23:30:00Z", "2025-05-13T23:31:40Z" },
      { TPT_TIME_ORIGINAL, "2025-05-14T07:30:00", "2025-05-13T23:31:40Z" } }, 100 },
  /* a file's offset is the system's, not the camera's: it does not spread */
  { "file-apart", "Asia/Kuching", "2025-05-01T00:00:00Z", 0, NULL, NULL,
    { { TPT_TIME_FILE, "2025-05-14T07:30:00Z", "2025-05-14T07:30:00Z" },
      { TPT_TIME_ORIGINAL, "2025-05-14T07:30:00", "2025-05-13T23:30:00Z" } }, 0 },
  /* none at all: left without */
  { "none", "Asia/Kuching", "2025-05-01T00:00:00Z", 0, NULL, NULL,
    { { TPT_TIME_NONE, NULL, NULL }, { TPT_TIME_XMP, "2025-05-14T07:30:00", "2025-05-13T23:30:00Z" } }, 0 },
};

static void
set_up (const Case *c, TptZone *zone, TptClock *clock, TptClockFrame *frames, guint *n)
{
  *clock = (TptClock) { .zone = zone, .start = TPT_NO_INSTANT, .end = TPT_NO_INSTANT, .now = TPT_NO_INSTANT };
  if (c->start != NULL)
    clock->start = tpt_instant_parse (c->start, zone, NULL);
  clock->camera_clock_offset_s = c->offset_s;
  clock->has_pair = c->read != NULL;
  if (clock->has_pair)
    {
      g_assert_true (tpt_reading_parse (c->read, &clock->read, NULL));
      clock->true_at = tpt_instant_parse (c->true_at, zone, NULL);
    }

  for (*n = 0; *n < 4 && (c->frames[*n].reading != NULL || *n == 0); (*n)++)
    {
      frames[*n].source = c->frames[*n].source;
      if (c->frames[*n].reading != NULL)
        g_assert_true (tpt_reading_parse (c->frames[*n].reading, &frames[*n].reading, NULL));
    }
}

static void
test_correct (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const Case *c = &cases[i];
      g_autoptr (TptZone) zone = tpt_zone_new (c->zone, NULL);
      TptClockFrame frames[4] = { 0 };
      TptClockReport report;
      TptClock clock;
      guint n;

      g_test_message ("%s", c->name);
      set_up (c, zone, &clock, frames, &n);
      tpt_clock_correct (&clock, frames, n, &report);
      for (guint j = 0; j < n; j++)
        {
          TptInstant wanted = c->frames[j].at != NULL ? tpt_instant_parse (c->frames[j].at, NULL, NULL)
                                                      : TPT_NO_INSTANT;

          g_assert_cmpint (frames[j].at, ==, wanted);
        }
      /* to the millisecond, the unit of instants */
      g_assert_cmpfloat_with_epsilon (report.clock_offset_s, c->clock_offset_s, 0.0005);
    }
}

static void
test_report (void)
{
  g_autoptr (TptZone) zone = tpt_zone_new ("Asia/Kuching", NULL);
  TptClock clock = { .zone = zone, .start = 0, .end = TPT_NO_INSTANT, .now = TPT_NO_INSTANT };
  TptClockFrame frames[] = {
    { { 1000, TPT_NO_OFFSET }, TPT_TIME_ORIGINAL }, { { 2000, 3600 }, TPT_TIME_ORIGINAL },
    { { 3000, 7200 }, TPT_TIME_XMP },               { { 4000, 0 }, TPT_TIME_FILE },
    { { 0, TPT_NO_OFFSET }, TPT_TIME_NONE },
  };
  TptClockReport report;

  tpt_clock_correct (&clock, frames, G_N_ELEMENTS (frames), &report);
  g_assert_cmpuint (report.n_file_time, ==, 1);
  g_assert_cmpuint (report.n_without, ==, 1);
  g_assert_cmpuint (report.n_offsets, ==, 2);
  g_assert_true (report.offsets_differ);

  tpt_clock_correct (&clock, frames, 2, &report);
  g_assert_false (report.offsets_differ);
  tpt_clock_correct (&clock, frames, 0, &report);
  g_assert_cmpuint (report.n_offsets, ==, 0);
}

typedef struct {
  const char *reading;
  TptTimeSource source;
  guint doubts;
} DoubtCase;

/* In this order, in a deployment of May 2025, asked on 10 June. */
static const DoubtCase doubt_cases[] = {
  { "2025-05-02T10:00:00", TPT_TIME_ORIGINAL, 0 },
  { "2025-05-02T09:59:30", TPT_TIME_ORIGINAL, 0 },                             /* half a minute back: no matter */
  { "2025-05-01T10:00:00", TPT_TIME_ORIGINAL, TPT_DOUBT_BACKWARDS },
  { "2025-04-30T23:59:59", TPT_TIME_ORIGINAL, TPT_DOUBT_BEFORE_START | TPT_DOUBT_BACKWARDS },
  { "2025-06-01T00:00:01", TPT_TIME_ORIGINAL, TPT_DOUBT_AFTER_END },
  { "2025-06-12T00:00:00", TPT_TIME_ORIGINAL, TPT_DOUBT_AFTER_END | TPT_DOUBT_FUTURE },
  { "2015-01-01T00:00:09", TPT_TIME_ORIGINAL, TPT_DOUBT_BEFORE_START | TPT_DOUBT_FACTORY | TPT_DOUBT_BACKWARDS },
  { "2015-01-02T00:00:09", TPT_TIME_ORIGINAL, TPT_DOUBT_BEFORE_START },
  { "2025-05-03T10:00:00Z", TPT_TIME_FILE, TPT_DOUBT_FILE_TIME },
};

static void
test_doubts (void)
{
  g_autoptr (TptZone) zone = tpt_zone_new ("Asia/Kuching", NULL);
  TptClock clock = { .zone = zone };
  TptClockFrame frames[G_N_ELEMENTS (doubt_cases)] = { 0 };

  clock.start = tpt_instant_parse ("2025-05-01T00:00:00+08:00", NULL, NULL);
  clock.end = tpt_instant_parse ("2025-06-01T00:00:00+08:00", NULL, NULL);
  clock.now = tpt_instant_parse ("2025-06-10T00:00:00+08:00", NULL, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (doubt_cases); i++)
    {
      g_assert_true (tpt_reading_parse (doubt_cases[i].reading, &frames[i].reading, NULL));
      frames[i].source = doubt_cases[i].source;
    }

  tpt_clock_correct (&clock, frames, G_N_ELEMENTS (frames), NULL);
  for (guint i = 0; i < G_N_ELEMENTS (doubt_cases); i++)
    {
      g_test_message ("%s", doubt_cases[i].reading);
      g_assert_cmphex (frames[i].doubts, ==, doubt_cases[i].doubts);
    }
}

static void
test_zone_doubt (void)
{
  g_autoptr (TptZone) zone = tpt_zone_new ("Europe/Bucharest", NULL);
  TptClock clock = { .zone = zone, .start = TPT_NO_INSTANT, .end = TPT_NO_INSTANT, .now = TPT_NO_INSTANT };
  TptClockFrame frames[2] = { { .source = TPT_TIME_ORIGINAL }, { .source = TPT_TIME_ORIGINAL } };

  g_assert_true (tpt_reading_parse ("2025-07-01T12:00:00+03:00", &frames[0].reading, NULL));
  g_assert_true (tpt_reading_parse ("2025-07-01T12:00:00+02:00", &frames[1].reading, NULL));
  tpt_clock_correct (&clock, frames, 2, NULL);
  g_assert_cmphex (frames[0].doubts, ==, 0);
  g_assert_cmphex (frames[1].doubts, ==, TPT_DOUBT_ZONE);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  /* The machine's own zone must not matter. */
  g_setenv ("TZ", "America/New_York", TRUE);
  g_test_add_func ("/clock/correct", test_correct);
  g_test_add_func ("/clock/report", test_report);
  g_test_add_func ("/clock/doubts", test_doubts);
  g_test_add_func ("/clock/zone-doubt", test_zone_doubt);
  return g_test_run ();
}
