#include "config.h"

#include <math.h>

#include "sci-random.h"
#include "tpt-demo-private.h"
#include "tpt-frames.h"
#include "tpt-records.h"

#define DAYS 730
#define ROUND_DAYS 30
/* Pictures are kept for the last months; before that only what they showed. */
#define PICTURE_DAYS 215
#define QUIET 0.35 /* share of records kept of the time before pictures */

/* The last visit before the moment the demo stands at, by the station's fate. */
TptInstant
tpt_demo_last_visit (const TptDemoStory *told)
{
  static const double days_before[] = {
    [DEMO_FINE] = 8, [DEMO_WANING] = 26, [DEMO_LOW_CARD] = 24, [DEMO_CARD_FULL] = 13, [DEMO_DEAD] = 16, [DEMO_MISSED] = 47,
    [DEMO_BROUGHT_IN] = 61,
  };

  return TPT_DEMO_NOW - (TptInstant) ((days_before[told->station->fate] + 0.2 * (told->number % 5)) * TPT_DAY);
}

static gboolean
fit (TptDemoStory *told, const char *letter, guint number, TptInstant from, TptInstant to, GError **error)
{
  g_autoptr (TptRecord) record = tpt_record_new (TPT_TABLE_FITTINGS);
  g_autofree char *unit = tpt_demo_unit_code (letter, number);

  tpt_record_set_text (record, "deployment", told->deployment);
  tpt_record_set_text (record, "unit", unit);
  tpt_record_set_instant (record, "from", from);
  tpt_record_set_instant (record, "to", to);
  return tpt_demo_save (told->demo, record, error);
}

static gboolean
set_out (TptDemoStory *told, GError **error)
{
  g_autoptr (TptRecord) record = tpt_record_new (TPT_TABLE_DEPLOYMENTS);
  const TptDemoStation *s = told->station;
  guint n = told->number;

  tpt_record_set_text (record, "deployment", told->deployment);
  tpt_record_set_text (record, "station", s->code);
  tpt_record_set_instant (record, "start", told->start);
  tpt_record_set_instant (record, "end", told->end);
  tpt_record_set_integer (record, "frames_per_trigger", TPT_DEMO_BURST_FRAMES);
  tpt_record_set_real (record, "frame_mb", told->frame_mb);
  tpt_record_set_real (record, "sensor_height_m", s->beam ? 0.45 : 0.6);
  tpt_record_set_real (record, "heading_deg", floor (360 * sci_random_uniform (n, DRAW_PLACE, 1)));
  tpt_record_set_real (record, "temperature_c", 26);
  if (!tpt_demo_save (told->demo, record, error))
    return FALSE;
  told->deployment_id = tpt_record_get_id (record);

  if (!fit (told, "K", n + 1, told->start, told->end, error) || !fit (told, "H", n + 1, told->start, told->end, error) ||
      (s->beam && !fit (told, "T", n + 1, told->start, told->end, error)) ||
      (s->pack && !fit (told, "P", n + 1, told->start, told->end, error)))
    return FALSE;
  for (guint f = 0; f < s->flashes; f++)
    if (!fit (told, "F", 2 * n + f + 1, told->start, told->end, error))
      return FALSE;
  return TRUE;
}

static gboolean
write_observation (TptDemoStory *told, const TptDemoBurst *burst, gboolean pictured, GError **error)
{
  g_autoptr (TptRecord) record = NULL;
  g_autofree char *code = NULL;
  const char *type = burst->species >= 0 ? "animal" : burst->species == -1 ? "blank" : "human";

  if (burst->species == -3 || (!pictured && burst->species < 0))
    return TRUE;
  record = tpt_record_new (TPT_TABLE_OBSERVATIONS);
  code = g_strdup_printf ("O%05" G_GINT64_FORMAT, ++told->demo->observation);
  tpt_record_set_text (record, "observation", code);
  tpt_record_set_text (record, "deployment", told->deployment);
  tpt_record_set_instant (record, "start", burst->at);
  tpt_record_set_instant (record, "end", burst->at + (TPT_DEMO_BURST_FRAMES - 1) * TPT_DEMO_BURST_MS);
  tpt_record_set_text (record, "type", type);
  if (burst->species >= 0)
    {
      tpt_record_set_text (record, "scientific_name", demo_species[burst->species].scientific_name);
      tpt_record_set_integer (record, "count", burst->animals);
    }
  tpt_record_set_text (record, "identified_by", "Mira");
  return tpt_demo_save (told->demo, record, error);
}

static gboolean
write_reading (TptDemoStory *told, const char *visit, const char *letter, guint number, const char *state, double percent,
               const char *action, GError **error)
{
  g_autoptr (TptRecord) record = tpt_record_new (TPT_TABLE_READINGS);
  g_autofree char *unit = tpt_demo_unit_code (letter, number);

  tpt_record_set_text (record, "visit", visit);
  tpt_record_set_text (record, "unit", unit);
  tpt_record_set_text (record, "state", state);
  if (!isnan (percent))
    tpt_record_set_real (record, "percent", round (percent));
  tpt_record_set_text (record, "action", action);
  return tpt_demo_save (told->demo, record, error);
}

/* What a visit found and did. */
typedef struct {
  TptInstant at;
  const char *found;
  gint64 frames;
  gboolean swap_cells; /* whatever is low */
  gboolean swap_card;
  const char *notes;
  double clock_slow_s;
  gboolean clock_reset;
  const TptDemoTrouble *trouble; /* (nullable) */
} Visit;

/* Percent of charge a day: camera, beam, flash, pack, second flash. */
static const double drains[] = { 1.0, 0.85, 0.75, 0.95, 0.7 };

static gboolean
write_meter (TptDemoStory *told, const char *visit, const Visit *v, guint kind, const char *letter, guint number, GError **error)
{
  double noise = 3 * (sci_random_uniform (number, DRAW_METER + kind, (guint64) v->at) - 0.5);
  double percent = CLAMP (told->charge[kind] + noise, 0, 100);
  gboolean dead = percent <= 2;
  gboolean swap = v->swap_cells && percent < 55;

  if (!write_reading (told, visit, letter, number, dead ? "dead" : "working", percent, swap ? "swapped" : "none", error))
    return FALSE;
  if (swap)
    told->charge[kind] = 100;
  return TRUE;
}

static gboolean
write_readings (TptDemoStory *told, const char *visit, const Visit *v, GError **error)
{
  const TptDemoStation *s = told->station;
  guint n = told->number;

  if (!write_meter (told, visit, v, 0, "K", n + 1, error) || (s->beam && !write_meter (told, visit, v, 1, "T", n + 1, error)) ||
      (s->pack && !write_meter (told, visit, v, 3, "P", n + 1, error)))
    return FALSE;
  for (guint f = 0; f < s->flashes; f++)
    if (!write_meter (told, visit, v, f == 0 ? 2 : 4, "F", 2 * n + f + 1, error))
      return FALSE;
  return write_reading (told, visit, "C", 2 * n + 1 + told->cards % 2, NULL, NAN, v->swap_card ? "swapped" : "none", error);
}

static char *
write_visit (TptDemoStory *told, const Visit *v, GError **error)
{
  g_autoptr (TptRecord) record = tpt_record_new (TPT_TABLE_VISITS);
  g_autofree char *time = tpt_instant_format (v->at, tpt_store_get_zone (told->demo->store));
  g_autofree char *code = g_strdup_printf ("%s-%.10s", told->station->code, time);
  TptReading shown = { v->at + TPT_DEMO_ZONE_MS - (TptInstant) (v->clock_slow_s * TPT_SECOND), TPT_NO_OFFSET };
  g_autofree char *clock = NULL;

  if (v->clock_reset) /* it fell back to the maker's date at that very visit */
    shown.clock_ms = tpt_days_from_civil (2020, 1, 1) * TPT_DAY;
  clock = tpt_reading_format (shown);
  tpt_record_set_text (record, "visit", code);
  tpt_record_set_text (record, "station", told->station->code);
  tpt_record_set_instant (record, "at", v->at);
  tpt_record_set_text (record, "people", told->visits % 3 == 0 ? "Mira, Jau" : "Jau");
  tpt_record_set_text (record, "found", v->found);
  tpt_record_set_text (record, "camera_clock", clock);
  tpt_record_set_instant (record, "true_clock", v->at);
  tpt_record_set_integer (record, "frames_on_card", v->frames);
  tpt_record_set_text (record, "left", g_str_equal (v->found, "working") || v->swap_cells ? "working" : "as found");
  tpt_record_set_text (record, "notes", v->notes);
  if (!tpt_demo_save (told->demo, record, error) || !write_readings (told, code, v, error))
    return NULL;
  told->visits++;
  return g_steal_pointer (&code);
}

static void
drain (TptDemoStory *told, double days)
{
  for (guint i = 0; i < G_N_ELEMENTS (drains); i++)
    told->charge[i] = MAX (0, told->charge[i] - drains[i] * days);
}

static gboolean
swap_card (TptDemoStory *told, TptInstant at, GError **error)
{
  gboolean good = fit (told, "C", 2 * told->number + 1 + told->cards % 2, told->fitted_at, at, error);

  told->cards++;
  told->fitted_at = at;
  return good;
}

static double
frames_that_fit (const TptDemoStory *told)
{
  return floor (told->card_gb * 1000 / told->frame_mb);
}

/* What the meters showed at the last visit, where that matters to the story. */
static void
set_meters (TptDemoStory *told)
{
  static const struct {
    const char *station;
    guint kind; /* as in drains */
    double percent;
  } meters[] = {
    { "WALL", 0, 31 }, { "OTTE", 0, 24 }, { "TWIN", 0, 46 }, { "SALT", 3, 0 }, { "RIDG", 0, 58 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (meters); i++)
    if (g_str_equal (meters[i].station, told->station->code))
      told->charge[meters[i].kind] = meters[i].percent;
}

/* Tells from one visit to the next: what the camera saw, then the visit. */
static gboolean
tell_stretch (TptDemoStory *told, TptInstant from, Visit *v, gboolean pictured, GError **error)
{
  gboolean leafy = g_str_equal (v->found, "card-full"); /* leaves before the beam fill it */
  g_autoptr (GArray) bursts = tpt_demo_draw_bursts (told, from, v->at, leafy ? 4 : pictured ? 1 : QUIET);
  g_autofree char *code = NULL;
  guint fits = (guint) (frames_that_fit (told) / TPT_DEMO_BURST_FRAMES);

  drain (told, (double) (v->at - from) / TPT_DAY);
  if (v->at == tpt_demo_last_visit (told))
    set_meters (told);
  if (g_str_equal (v->found, "dead") && bursts->len > 6)
    g_array_set_size (bursts, bursts->len * 2 / 3);
  if (leafy && bursts->len > fits)
    g_array_set_size (bursts, fits);
  v->frames = (gint64) bursts->len * TPT_DEMO_BURST_FRAMES;
  code = write_visit (told, v, error);
  if (code == NULL || (v->trouble != NULL && !tpt_demo_write_trouble (told, v->trouble, v->at, error)) ||
      (pictured && !tpt_demo_write_batch (told, bursts, error)))
    return FALSE;
  for (guint i = 0; i < bursts->len; i++)
    if (!write_observation (told, &g_array_index (bursts, TptDemoBurst, i), pictured, error))
      return FALSE;
  return !v->swap_card || swap_card (told, v->at, error);
}

static void
meet_trouble (const TptDemoStory *told, Visit *v)
{
  v->trouble = tpt_demo_draw_trouble (told);
  if (v->trouble != NULL)
    v->notes = v->trouble->notes;
  if (v->trouble != NULL && v->trouble->found != NULL)
    v->found = v->trouble->found;
  if (told->visits >= 2)
    v->clock_slow_s = floor (90 * sci_random_uniform (told->number, DRAW_VISIT + 1, told->visits));
}

static Visit
plan_visit (TptDemoStory *told, TptInstant at, gboolean last)
{
  Visit v = { .at = at, .found = "working", .swap_cells = TRUE, .swap_card = TRUE };
  TptDemoFate fate = told->station->fate;

  meet_trouble (told, &v);
  if (!last)
    return v;
  if (fate == DEMO_WANING || fate == DEMO_MISSED)
    v.swap_cells = FALSE;
  v.found = "working";
  v.notes = NULL;
  v.trouble = NULL;
  if (fate == DEMO_CARD_FULL)
    {
      v = (Visit){ .at = at, .found = "card-full", .notes = "leaves before the beam; no spare card left" };
    }
  else if (fate == DEMO_DEAD)
    v = (Visit){ .at = at, .found = "dead", .notes = "power pack out, no spare along" };
  else if (told->number == 4)
    {
      v.clock_reset = TRUE; /* its card waits to be taken in */
      v.notes = "clock fell back to 2020 when the cells were swapped; noted, not set";
    }
  return v;
}

static gboolean
tell_station (TptDemoStory *told, GError **error)
{
  TptInstant last = tpt_demo_last_visit (told), from = told->start;

  if (!set_out (told, error))
    return FALSE;
  while (from < last)
    {
      double jitter = 8 * (sci_random_uniform (told->number, DRAW_VISIT + 2, told->visits) - 0.5);
      TptInstant at = from + (TptInstant) ((ROUND_DAYS + jitter) * TPT_DAY);
      Visit v;

      if (at > last - 20 * TPT_DAY)
        at = last;
      v = plan_visit (told, at, at == last);
      if (!tell_stretch (told, from, &v, from > TPT_DEMO_NOW - PICTURE_DAYS * TPT_DAY, error))
        return FALSE;
      from = at;
    }
  if (!tpt_store_link_observations (told->demo->store, told->deployment_id, error))
    return FALSE;
  if (told->end != TPT_NO_INSTANT)
    return told->fitted_at >= told->end ||
           fit (told, "C", 2 * told->number + 1 + told->cards % 2, told->fitted_at, told->end, error);
  return fit (told, "C", 2 * told->number + 1 + told->cards % 2, told->fitted_at, TPT_NO_INSTANT, error);
}

static gboolean
tell (TptDemo *demo, guint number, GError **error)
{
  const TptDemoStation *s = &demo_stations[number];
  TptInstant start = TPT_DEMO_NOW - (TptInstant) (DAYS - 3 * number) * TPT_DAY - 6 * TPT_HOUR;
  TptDemoStory told = {
    .demo = demo,
    .station = s,
    .number = number,
    .start = start,
    .end = TPT_NO_INSTANT,
    .fitted_at = start,
    .charge = { 100, 100, 100, 100, 100 },
    .frame_mb = 9,
    .card_gb = s->fate == DEMO_LOW_CARD || s->fate == DEMO_CARD_FULL ? 2 : 32,
  };
  gboolean good;

  told.deployment = g_strdup_printf ("%s-1", s->code);
  if (s->fate == DEMO_BROUGHT_IN)
    told.end = tpt_demo_last_visit (&told);
  good = tell_station (&told, error);
  g_free (told.deployment);
  return good;
}

static gboolean
write_tables (TptDemo *demo, GError **error)
{
  g_autoptr (TptAction) action = tpt_action_begin (demo->store, "Import the station list", error);

  return action != NULL && tpt_demo_write_lists (demo, error) &&
         tpt_store_set_setting (demo->store, "clock_at", "2026-06-12T17:00:00+08:00", error) &&
         tpt_store_set_setting (demo->store, "round_at", "2026-06-20T08:00:00+08:00", error) && tpt_action_commit (action, error);
}

gboolean
tpt_demo_fill (TptStore *store, const char *folder, GCancellable *cancellable, GError **error)
{
  TptDemo demo = { store, folder, cancellable, 0, 0 };

  if (!write_tables (&demo, error))
    return FALSE;
  for (guint i = 0; i < demo_n_stations; i++)
    {
      g_autofree char *what = g_strdup_printf ("Two years at %s", demo_stations[i].name);
      g_autoptr (TptAction) action = tpt_action_begin (store, what, error);

      if (action == NULL || !tell (&demo, i, error) || !tpt_action_commit (action, error))
        return FALSE;
    }
  return tpt_demo_write_cards (&demo, error);
}
