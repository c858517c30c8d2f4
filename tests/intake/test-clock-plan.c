/* The rules are those of tpt-clock-plan.h. Zone offsets and changes: the IANA
 * time zone database, files `europe` (Bucharest: EU rules, +02:00 and +03:00,
 * 2025-03-30 and 2025-10-26 at 01:00 UTC) and `asia` (Kuching +08:00, Kathmandu
 * +05:45, Kolkata +05:30, throughout). The instants were worked out by hand from these. */
#include <glib.h>
#include <math.h>
#include <string.h>

#include "tpt-clock-plan.h"

#define MOST_FRAMES 8
#define MOST_PAIRS 4

typedef struct {
  const char *name;
  const char *zone;
  const char *start, *end;     /* NULL: none */
  double offset_s;             /* of the deployment's record */
  const char *ended;           /* visit at which the camera was found at work; NULL none */
  struct {
    const char *read, *true_at;
  } pairs[MOST_PAIRS];
  struct {
    const char *reading;
    const char *at;            /* with the proposed steps; NULL: as read */
    gint64 number;             /* 0: unknown */
  } frames[MOST_FRAMES];
  const char *steps;           /* with + proposed, - not */
  guint doubts;
} Case;

#define KUCHING "Asia/Kuching", "2025-05-01T10:00:00+08:00", "2025-06-01T10:00:00+08:00"
#define BUCHAREST(start, end) "Europe/Bucharest", start, end
/* A month that begins in winter time and ends in summer time, and one the other way about. */
#define SPRING BUCHAREST ("2025-03-10T10:00:00+02:00", "2025-04-10T10:00:00+03:00")
#define AUTUMN BUCHAREST ("2025-10-10T10:00:00+03:00", "2025-11-10T10:00:00+02:00")

static const Case cases[] = {
  { "no evidence, no step", KUCHING, 0, NULL, { { 0 } },
    { { "2025-05-02T10:00:00", "2025-05-02T02:00:00Z" }, { "2025-05-20T10:00:00", "2025-05-20T02:00:00Z" } }, "", 0 },
  { "a pair that agrees, no step", KUCHING, 0, NULL, { { "2025-06-01T10:00:00", "2025-06-01T02:00:00Z" } },
    { { "2025-05-02T10:00:00", "2025-05-02T02:00:00Z" } }, "", 0 },
  { "offset: 100 s slow", KUCHING, 0, NULL, { { "2025-06-01T09:58:20", "2025-06-01T02:00:00Z" } },
    { { "2025-05-02T10:00:00", "2025-05-02T02:01:40Z" }, { "2025-05-20T10:00:00", "2025-05-20T02:01:40Z" } }, "offset+", 0 },
  { "offset: 30 s fast", KUCHING, 0, NULL, { { "2025-06-01T10:00:30", "2025-06-01T02:00:00Z" } },
    { { "2025-05-02T10:00:00", "2025-05-02T01:59:30Z" } }, "offset+", 0 },
  { "offset from the record", KUCHING, 20, NULL, { { 0 } },
    { { "2025-05-02T10:00:00", "2025-05-02T02:00:20Z" } }, "offset+", 0 },
  { "a pair goes before the record", KUCHING, 20, NULL, { { "2025-06-01T09:59:50", "2025-06-01T02:00:00Z" } },
    { { "2025-05-02T10:00:00", "2025-05-02T02:00:10Z" } }, "offset+", 0 },
  { "offset told by frames: +00:00 where the zone is +08:00, and a pair that cancels it", KUCHING, 0, NULL,
    { { "2025-06-01T10:00:00", "2025-06-01T02:00:00Z" } },
    { { "2025-05-02T10:00:00+00:00", "2025-05-02T02:00:00Z" }, { "2025-05-03T10:00:00+00:00", "2025-05-03T02:00:00Z" } }, "hour+", 0 },

  /* right on 1 May, 31 s slow on 1 June: 1 s a day */
  { "drift: right at first, then 1 s a day slow", KUCHING, 0, NULL,
    { { "2025-05-01T10:00:00", "2025-05-01T02:00:00Z" }, { "2025-06-01T09:59:29", "2025-06-01T02:00:00Z" } },
    { { "2025-05-01T10:00:00", "2025-05-01T02:00:00Z" }, { "2025-05-11T09:59:50", "2025-05-11T02:00:00Z" },
      { "2025-06-01T09:59:29", "2025-06-01T02:00:00Z" } }, "drift+", 0 },
  { "drift: 1 s a day fast, from 10 s slow", KUCHING, 0, NULL,
    { { "2025-05-01T09:59:50", "2025-05-01T02:00:00Z" }, { "2025-06-01T10:00:21", "2025-06-01T02:00:00Z" } },
    { { "2025-05-01T09:59:50", "2025-05-01T02:00:00Z" }, { "2025-05-11T10:00:00", "2025-05-11T02:00:00Z" },
      { "2025-06-01T10:00:21", "2025-06-01T02:00:00Z" } }, "offset+ drift+", 0 },
  { "drift: beyond the pairs the nearest holds", KUCHING, 0, NULL,
    { { "2025-05-11T10:00:00", "2025-05-11T02:00:00Z" }, { "2025-05-21T09:59:50", "2025-05-21T02:00:00Z" } },
    { { "2025-05-02T10:00:00", "2025-05-02T02:00:00Z" }, { "2025-05-31T09:59:50", "2025-05-31T02:00:00Z" } }, "drift+", 0 },
  { "three pairs: twice interpolated", KUCHING, 0, NULL,
    { { "2025-05-01T10:00:00", "2025-05-01T02:00:00Z" }, { "2025-05-11T09:59:50", "2025-05-11T02:00:00Z" },
      { "2025-05-31T09:59:50", "2025-05-31T02:00:00Z" } },
    { { "2025-05-06T09:59:55", "2025-05-06T02:00:00Z" }, { "2025-05-21T09:59:50", "2025-05-21T02:00:00Z" } }, "drift+", 0 },
  { "too much for drift: the clock was set", KUCHING, 0, NULL,
    { { "2025-05-01T10:20:00", "2025-05-01T02:00:00Z" }, { "2025-06-01T10:00:10", "2025-06-01T02:00:00Z" } },
    { { "2025-05-11T10:00:10", "2025-05-11T02:00:00Z" } }, "offset+", 0 },

  { "reset: back to a default date, repaired from the visit", KUCHING, 0, NULL,
    { { "2015-01-11T00:00:00", "2025-06-01T02:00:00Z" } },
    { { "2025-05-10T10:00:00", "2025-05-10T02:00:00Z" }, { "2015-01-01T00:00:00", "2025-05-22T02:00:00Z" },
      { "2015-01-06T12:00:00", "2025-05-27T14:00:00Z" } }, "reset+", 0 },
  { "reset: the pair of the start is the first stretch's", KUCHING, 0, NULL,
    { { "2025-05-01T09:59:00", "2025-05-01T02:00:00Z" }, { "2015-01-11T00:00:00", "2025-06-01T02:00:00Z" } },
    { { "2025-05-10T10:00:00", "2025-05-10T02:01:00Z" }, { "2015-01-01T00:00:00", "2025-05-22T02:00:00Z" } }, "reset+ offset+", 0 },
  { "reset: before the first frame", KUCHING, 0, NULL, { { "2015-01-29T00:00:00", "2025-05-30T00:00:00Z" } },
    { { "2015-01-12T13:30:00", "2025-05-13T13:30:00Z" } }, "reset+", 0 },
  { "reset: to a date later than the deployment", KUCHING, 0, NULL,
    { { "2030-01-11T00:00:00", "2025-06-01T02:00:00Z" } },
    { { "2025-05-10T10:00:00", "2025-05-10T02:00:00Z" }, { "2030-01-01T00:00:00", "2025-05-22T02:00:00Z" } }, "reset+", 0 },
  { "reset: no pair, but the camera was found at work", KUCHING, 0, "2025-06-01T02:00:00Z", { { 0 } },
    { { "2025-05-10T10:00:00", "2025-05-10T02:00:00Z" }, { "2015-01-01T00:00:00", "2025-05-22T02:00:00Z" },
      { "2015-01-11T00:00:00", "2025-06-01T02:00:00Z" } }, "reset+", 0 },
  { "reset: the same, but it would begin before the frames before it", KUCHING, 0, "2025-06-01T02:00:00Z", { { 0 } },
    { { "2025-05-30T10:00:00", "2025-05-30T02:00:00Z" }, { "2015-01-01T00:00:00", NULL }, { "2015-01-11T00:00:00", NULL } },
    "reset-", 0 },
  { "reset: nothing to go by", KUCHING, 0, NULL, { { 0 } },
    { { "2025-05-10T10:00:00", "2025-05-10T02:00:00Z" }, { "2015-01-01T00:00:00", NULL } }, "", 1 },
  { "reset: the pair of another clock is not used", KUCHING, 0, NULL, { { "2019-01-11T00:00:00", "2025-06-01T02:00:00Z" } },
    { { "2025-05-10T10:00:00", "2025-05-10T02:00:00Z" } }, "", 1 },
  { "two resets: the last is repaired, the one between is left and said", KUCHING, 0, NULL,
    { { "2015-01-03T00:00:00", "2025-06-01T02:00:00Z" } },
    { { "2025-05-10T10:00:00", "2025-05-10T02:00:00Z" }, { "2015-01-01T00:00:00", NULL }, { "2015-01-05T00:00:00", NULL },
      { "2015-01-01T00:00:00", "2025-05-30T02:00:00Z" }, { "2015-01-02T00:00:00", "2025-05-31T02:00:00Z" } }, "reset+", 1 },
  { "two resets, a pair for each", KUCHING, 0, NULL,
    { { "2015-01-06T00:00:00", "2025-05-20T02:00:00Z" }, { "2018-01-03T00:00:00", "2025-06-01T02:00:00Z" } },
    { { "2025-05-10T10:00:00", "2025-05-10T02:00:00Z" }, { "2015-01-05T00:00:00", "2025-05-19T02:00:00Z" },
      { "2018-01-02T00:00:00", "2025-05-31T02:00:00Z" } }, "reset+ reset-2+", 0 },
  { "reset and set right again by somebody", KUCHING, 0, NULL, { { "2025-06-01T09:58:20", "2025-06-01T02:00:00Z" } },
    { { "2015-01-05T00:00:00", NULL }, { "2025-05-20T10:00:00", "2025-05-20T02:01:40Z" } }, "offset+", 1 },
  { "backwards within the deployment, the order goes on", KUCHING, 0, NULL, { { "2025-05-19T10:00:00", "2025-06-01T02:00:00Z" } },
    { { "2025-05-20T10:00:00", "2025-05-20T02:00:00Z", 7 }, { "2025-05-08T10:00:00", "2025-05-21T02:00:00Z", 8 } }, "reset+", 0 },
  { "backwards within the deployment, but the counter wrapped", KUCHING, 0, NULL, { { 0 } },
    { { "2025-05-20T10:00:00", "2025-05-20T02:00:00Z", 2 }, { "2025-05-08T10:00:00", "2025-05-08T02:00:00Z", 9998 } }, "", 0 },
  { "backwards within the deployment, the counter begun anew in the next folder", KUCHING, 0, NULL, { { "2025-05-19T10:00:00", "2025-06-01T02:00:00Z" } },
    { { "2025-05-20T10:00:00", "2025-05-20T02:00:00Z", 9999 }, { "2025-05-08T10:00:00", "2025-05-21T02:00:00Z", 1 } }, "reset+", 0 },
  { "backwards within the deployment, but names without numbers are in no order", KUCHING, 0, NULL,
    { { "2025-06-01T09:58:20", "2025-06-01T02:00:00Z" } },
    { { "2025-05-20T10:00:00", "2025-05-20T02:01:40Z" }, { "2025-05-08T10:00:00", "2025-05-08T02:01:40Z" } }, "offset+", 0 },
  { "half a minute back is a burst out of order", KUCHING, 0, NULL, { { 0 } },
    { { "2025-05-20T10:00:30", "2025-05-20T02:00:30Z" }, { "2025-05-20T10:00:00", "2025-05-20T02:00:00Z" } }, "", 0 },
  { "reset and drift after it", KUCHING, 0, NULL,
    { { "2015-01-02T00:00:00", "2025-05-12T00:00:00Z" }, { "2015-01-12T00:00:10", "2025-05-22T00:00:00Z" } },
    { { "2015-01-07T00:00:05", "2025-05-17T00:00:00Z" } }, "reset+ drift+", 0 },

  { "hour: set to the zone next door", KUCHING, 0, NULL, { { "2025-06-01T09:00:00", "2025-06-01T02:00:00Z" } },
    { { "2025-05-02T10:00:00", "2025-05-02T03:00:00Z" } }, "hour+", 0 },
  { "hour: and 12 s besides", KUCHING, 0, NULL, { { "2025-06-01T08:59:48", "2025-06-01T02:00:00Z" } },
    { { "2025-05-02T10:00:00", "2025-05-02T03:00:12Z" } }, "hour+ offset+", 0 },
  { "hour: set at home, nine hours behind", KUCHING, 0, NULL, { { "2025-06-01T01:00:30", "2025-06-01T02:00:00Z" } },
    { { "2025-05-02T10:00:00", "2025-05-02T10:59:30Z" } }, "hour+ offset+", 0 },
  { "hour: half-hour zone, +05:30 where +08:00 holds", KUCHING, 0, NULL, { { "2025-06-01T07:30:00", "2025-06-01T02:00:00Z" } },
    { { "2025-05-02T10:00:00", "2025-05-02T04:30:00Z" } }, "hour+", 0 },
  { "hour: quarter-hour zone, +05:30 where +05:45 holds", "Asia/Kathmandu", "2025-05-01T10:00:00+05:45", "2025-06-01T10:00:00+05:45",
    0, NULL, { { "2025-06-01T09:45:00", "2025-06-01T04:15:00Z" } },
    { { "2025-05-02T10:00:00", "2025-05-02T04:30:00Z" } }, "hour+", 0 },
  /* +07:30 is no zone */
  { "half an hour that is no zone is an offset", KUCHING, 0, NULL, { { "2025-06-01T09:30:00", "2025-06-01T02:00:00Z" } },
    { { "2025-05-02T10:00:00", "2025-05-02T02:30:00Z" } }, "offset+", 0 },
  { "hour: summer time kept in winter", BUCHAREST ("2025-11-01T10:00:00+02:00", "2025-12-01T10:00:00+02:00"), 0, NULL,
    { { "2025-12-01T11:00:00", "2025-12-01T08:00:00Z" } },
    { { "2025-11-10T11:00:00", "2025-11-10T08:00:00Z" } }, "hour+", 0 },
  { "spring: a clock that stays needs nothing", SPRING, 0, NULL, { { "2025-04-10T09:00:00", "2025-04-10T07:00:00Z" } },
    { { "2025-03-20T12:00:00", "2025-03-20T10:00:00Z" }, { "2025-04-05T12:00:00", "2025-04-05T10:00:00Z" } }, "", 0 },
  { "spring: changed by itself, told by one pair", SPRING, 0, NULL, { { "2025-04-10T10:00:00", "2025-04-10T07:00:00Z" } },
    { { "2025-03-20T12:00:00", "2025-03-20T10:00:00Z" }, { "2025-04-05T13:00:00", "2025-04-05T10:00:00Z" } }, "hour+", 0 },
  { "spring: changed by itself, told by two pairs, and 10 s slow", SPRING, 0, NULL,
    { { "2025-03-10T09:59:50", "2025-03-10T08:00:00Z" }, { "2025-04-10T09:59:50", "2025-04-10T07:00:00Z" } },
    { { "2025-03-20T11:59:50", "2025-03-20T10:00:00Z" }, { "2025-04-05T12:59:50", "2025-04-05T10:00:00Z" } }, "hour+ offset+", 0 },
  { "spring: first frame after the change is an hour slow, no doubt about it", SPRING, 0, NULL,
    { { "2025-04-10T08:00:00", "2025-04-10T07:00:00Z" } },
    { { "2025-03-20T11:00:00", "2025-03-20T10:00:00Z" }, { "2025-04-05T11:00:00", "2025-04-05T10:00:00Z" } }, "hour+", 0 },
  { "autumn: a clock that stays needs nothing", AUTUMN, 0, NULL, { { "2025-11-10T11:00:00", "2025-11-10T08:00:00Z" } },
    { { "2025-10-20T12:00:00", "2025-10-20T09:00:00Z" }, { "2025-11-05T12:00:00", "2025-11-05T09:00:00Z" } }, "", 0 },
  { "autumn: changed by itself, seen in the order", AUTUMN, 0, NULL, { { 0 } },
    { { "2025-10-26T03:50:00", "2025-10-26T00:50:00Z", 5 }, { "2025-10-26T03:10:00", "2025-10-26T01:10:00Z", 6 },
      { "2025-11-05T12:00:00", "2025-11-05T10:00:00Z" } }, "hour+", 0 },
  { "autumn: the same with a pair 10 s slow", AUTUMN, 0, NULL, { { "2025-11-10T09:59:50", "2025-11-10T08:00:00Z" } },
    { { "2025-10-26T03:50:00", "2025-10-26T00:50:10Z", 5 }, { "2025-10-26T03:10:00", "2025-10-26T01:10:10Z", 6 } }, "hour+ offset+", 0 },
  { "autumn: changed by itself, told by one pair", AUTUMN, 0, NULL, { { "2025-11-10T10:00:00", "2025-11-10T08:00:00Z" } },
    { { "2025-10-20T12:00:00", "2025-10-20T09:00:00Z" }, { "2025-11-05T12:00:00", "2025-11-05T10:00:00Z" } }, "hour+", 0 },
  { "autumn: told by frames themselves", AUTUMN, 0, NULL, { { "2025-11-10T10:00:00", "2025-11-10T08:00:00Z" } },
    { { "2025-10-26T03:50:00+03:00", "2025-10-26T00:50:00Z" }, { "2025-10-26T03:10:00+02:00", "2025-10-26T01:10:00Z" },
      { "2025-11-09T10:00:00+02:00", "2025-11-09T08:00:00Z" } }, "", 0 },
  { "hour by the start: not without a second opinion", KUCHING, 0, NULL, { { 0 } },
    { { "2025-05-01T09:05:00", NULL }, { "2025-05-20T10:00:00", NULL } }, "hour-", 0 },
  { "hour by the end", KUCHING, 0, NULL, { { 0 } },
    { { "2025-05-03T09:05:00", NULL }, { "2025-06-01T11:55:00", NULL } }, "hour-", 0 },
  { "before the start, but no hour explains it", KUCHING, 0, NULL, { { 0 } },
    { { "2025-05-01T09:30:00", NULL }, { "2025-05-20T10:00:00", NULL } }, "", 0 },
};

static void
add_sights (const Case *c, TptClockSight *sights, guint *n)
{
  for (*n = 0; *n < MOST_FRAMES && c->frames[*n].reading != NULL; (*n)++)
    {
      sights[*n] = (TptClockSight){ .source = TPT_TIME_ORIGINAL, .exposure_value = NAN, .flash = -1,
                                    .number = c->frames[*n].number != 0 ? c->frames[*n].number : -1 };
      g_assert_true (tpt_reading_parse (c->frames[*n].reading, &sights[*n].reading, NULL));
    }
}

static TptInstant
moment (const char *text)
{
  TptInstant at = text != NULL ? tpt_instant_parse (text, NULL, NULL) : TPT_NO_INSTANT;

  g_assert_true ((text == NULL) == (at == TPT_NO_INSTANT));
  return at;
}

static TptClockPlan *
make_plan (const Case *c, guint *n)
{
  g_autoptr (TptZone) zone = tpt_zone_new (c->zone, NULL);
  TptClockSight sights[MOST_FRAMES];
  TptClockPair pairs[MOST_PAIRS];
  TptClockKnown known = {
    .clock = { .zone = zone, .start = moment (c->start), .end = moment (c->end), .now = moment ("2025-12-31T00:00:00Z"),
               .camera_clock_offset_s = c->offset_s },
    .pairs = pairs, .ended_at = moment (c->ended), .latitude = NAN, .longitude = NAN,
  };

  for (guint i = 0; i < MOST_PAIRS && c->pairs[i].read != NULL; i++, known.n_pairs++)
    {
      g_assert_true (tpt_reading_parse (c->pairs[i].read, &pairs[i].read, NULL));
      pairs[i].true_at = moment (c->pairs[i].true_at);
    }
  add_sights (c, sights, n);
  return tpt_clock_plan_new (&known, sights, *n);
}

static char *
describe_steps (TptClockPlan *plan)
{
  GString *text = g_string_new (NULL);
  GPtrArray *steps = tpt_clock_plan_get_steps (plan);

  for (guint i = 0; i < steps->len; i++)
    {
      const TptClockMend *step = steps->pdata[i];

      g_test_message ("  %s: %s", step->id, step->says);
      g_assert_cmpuint (step->frames, >, 0);
      g_assert_cmpint (step->before, !=, step->after);
      g_string_append_printf (text, "%s%s%c", i > 0 ? " " : "", step->id, step->proposed ? '+' : '-');
    }
  return g_string_free (text, FALSE);
}

static void
assert_times (const Case *c, const TptInstant *at, const TptInstant *bare, guint n)
{
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *found = tpt_instant_format (at[i], NULL);

      g_test_message ("  frame %u: %s", i, found);
      if (c->frames[i].at != NULL)
        g_assert_cmpint (at[i], ==, moment (c->frames[i].at));
      else
        g_assert_cmpint (at[i], ==, bare[i]);
    }
}

static void
test_cases (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      guint n;
      g_autoptr (TptClockPlan) plan = make_plan (&cases[i], &n);
      g_auto (GStrv) proposed = tpt_clock_plan_list_proposed (plan);
      g_autofree char *steps = NULL;
      TptInstant at[MOST_FRAMES], bare[MOST_FRAMES];

      g_test_message ("%s", cases[i].name);
      steps = describe_steps (plan);
      g_assert_cmpstr (steps, ==, cases[i].steps);
      g_assert_cmpuint (tpt_clock_plan_get_doubts (plan)->len, ==, cases[i].doubts);
      tpt_clock_plan_apply (plan, NULL, bare);
      tpt_clock_plan_apply (plan, (const char *const *) proposed, at);
      assert_times (&cases[i], at, bare, n);
    }
}

/* Pieces say the same as the instants: shift at the first frame, and drift from there. */
static void
test_pieces (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      guint n, covered = 0;
      g_autoptr (TptClockPlan) plan = make_plan (&cases[i], &n);
      g_auto (GStrv) proposed = tpt_clock_plan_list_proposed (plan);
      g_autoptr (GPtrArray) shifts = tpt_clock_plan_list_shifts (plan, (const char *const *) proposed);
      TptInstant at[MOST_FRAMES], bare[MOST_FRAMES];

      g_test_message ("%s", cases[i].name);
      tpt_clock_plan_apply (plan, NULL, bare);
      tpt_clock_plan_apply (plan, (const char *const *) proposed, at);
      for (guint s = 0; s < shifts->len; s++)
        {
          const TptClockShift *shift = shifts->pdata[s];

          g_assert_true (*shift->why != '\0');
          for (guint f = shift->first; f < shift->first + shift->n; f++)
            {
              double days = (double) (bare[f] - bare[shift->first]) / (double) TPT_DAY;

              /* a millisecond: instants are whole ones */
              g_assert_cmpfloat_with_epsilon ((double) (at[f] - bare[f]) / 1000.0,
                                              shift->shift_s + shift->drift_s_per_day * days, 0.001);
              covered++;
            }
        }
      for (guint f = 0; f < n; f++)
        covered += at[f] == bare[f];
      g_assert_cmpuint (covered, >=, n);
    }
}

/* Any subset adds what its steps add alone. */
static void
test_subsets (void)
{
  static const struct {
    const char *ids[4];
    const char *first, *last;
  } subsets[] = {
    { { NULL }, "2025-05-02T02:00:00Z", "2015-01-01T16:00:00Z" },
    { { "offset" }, "2025-05-02T02:00:12Z", "2015-01-01T16:00:00Z" },
    { { "hour" }, "2025-05-02T03:00:00Z", "2015-01-01T16:00:00Z" },
    { { "reset" }, "2025-05-02T02:00:00Z", "2025-06-01T01:00:00Z" },
    { { "hour", "reset" }, "2025-05-02T03:00:00Z", "2025-06-01T01:00:00Z" },
    { { "drift", "offset", "hour" }, "2025-05-02T03:00:12Z", "2015-01-01T16:00:00Z" },
    { { "reset", "offset", "hour" }, "2025-05-02T03:00:12Z", "2025-06-01T01:00:00Z" },
  };
  static const Case c = { "hour, offset and reset", KUCHING, 0, NULL,
                          { { "2025-05-01T08:59:48", "2025-05-01T02:00:00Z" }, { "2015-01-02T01:00:00", "2025-06-01T02:00:00Z" } },
                          { { "2025-05-02T10:00:00", NULL }, { "2015-01-02T00:00:00", NULL } }, NULL, 0 };
  const char *wrong[] = { "hour", "reset-2", NULL };
  guint n;
  g_autoptr (TptClockPlan) plan = make_plan (&c, &n);

  for (guint i = 0; i < G_N_ELEMENTS (subsets); i++)
    {
      TptInstant at[MOST_FRAMES];

      g_test_message ("row %u", i);
      tpt_clock_plan_apply (plan, subsets[i].ids, at);
      g_assert_cmpint (at[0], ==, moment (subsets[i].first));
      g_assert_cmpint (at[1], ==, moment (subsets[i].last));
    }
  g_assert_cmpstr (tpt_clock_plan_find_unknown (plan, wrong), ==, "reset-2");
  g_assert_null (tpt_clock_plan_find_unknown (plan, subsets[6].ids));
}

/* A month of pictures at a place on the equator at 110 degrees east, where the sun is up from about 6:40 to
 * 18:40 of +08:00: bright ones by day, and by night with a flash, as a camera with a wrong clock shows them. */
static void
test_light (void)
{
  static const struct {
    const char *name;
    int slow_h;           /* the clock shows so much less than the time */
    gboolean always_flash;
    const char *start;    /* of the deployment; the first frame was taken on 1 May at 10:05 */
    const char *steps;
    guint doubts;
  } rows[] = {
    { "right", 0, FALSE, "2025-05-01T02:00:00Z", "", 0 },
    { "an hour is too little for the light to tell", 1, FALSE, "2025-04-25T02:00:00Z", "", 2 }, /* but it is odd at dawn and dusk */
    { "twelve hours", 12, FALSE, "2025-04-25T02:00:00Z", "hour-", 2 },
    { "eight hours", 8, FALSE, "2025-04-25T02:00:00Z", "hour-", 2 },
    { "eight hours, and the start says so too", 8, FALSE, "2025-05-01T02:00:00Z", "hour+", 0 },
    { "a flash that always fires says nothing", 12, TRUE, "2025-04-25T02:00:00Z", "", 0 },
  };
  enum { N = 24 * 20 };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree TptClockSight *sights = g_new0 (TptClockSight, N);
      g_autoptr (TptZone) zone = tpt_zone_new ("Asia/Kuching", NULL);
      g_autoptr (TptClockPlan) plan = NULL;
      g_autofree char *steps = NULL;
      TptClockKnown known = {
        .clock = { .zone = zone, .start = moment (rows[i].start), .end = TPT_NO_INSTANT, .now = moment ("2025-12-31T00:00:00Z") },
        .ended_at = TPT_NO_INSTANT, .latitude = 0, .longitude = 110,
      };

      for (int f = 0; f < N; f++)
        {
          int local_h = (10 + f) % 24;
          gboolean day = local_h >= 7 && local_h < 18;

          sights[f] = (TptClockSight){ .source = TPT_TIME_ORIGINAL, .number = -1,
                                       .exposure_value = day ? 12 : 6, .flash = rows[i].always_flash || !day };
          sights[f].reading = (TptReading){ moment ("2025-05-01T10:05:00Z") + (f - rows[i].slow_h) * TPT_HOUR, TPT_NO_OFFSET };
        }
      plan = tpt_clock_plan_new (&known, sights, N);
      g_test_message ("%s", rows[i].name);
      steps = describe_steps (plan);
      g_assert_cmpstr (steps, ==, rows[i].steps);
      g_assert_cmpuint (tpt_clock_plan_get_doubts (plan)->len, ==, rows[i].doubts);
      for (guint s = 0; s < tpt_clock_plan_get_steps (plan)->len; s++)
        {
          const TptClockMend *step = tpt_clock_plan_get_steps (plan)->pdata[s];

          /* the light tells within two hours: days of eleven hours are lit */
          g_assert_cmpint (ABS (ABS (step->after - step->before) - rows[i].slow_h * TPT_HOUR), <=, 2 * TPT_HOUR);
        }
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  /* The machine's own zone must not matter. */
  g_setenv ("TZ", "America/New_York", TRUE);
  g_test_add_func ("/clock-plan/cases", test_cases);
  g_test_add_func ("/clock-plan/pieces", test_pieces);
  g_test_add_func ("/clock-plan/subsets", test_subsets);
  g_test_add_func ("/clock-plan/light", test_light);
  return g_test_run ();
}
