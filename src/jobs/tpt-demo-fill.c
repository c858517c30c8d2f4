#include "config.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "sci-random.h"
#include "tpt-batches.h"
#include "tpt-demo-cast.h"
#include "tpt-demo-private.h"
#include "tpt-error.h"
#include "tpt-picture-file.h"
#include "tpt-query.h"
#include "tpt-records.h"
#include "tpt-scene.h"

#define DAYS 730
#define FRAMES_PER_TRIGGER 3
#define BURST_MS 900
#define ROUND_DAYS 30
/* Pictures are kept for the last months; before that only what they showed. */
#define PICTURE_DAYS 215
#define ZONE_MS (8 * TPT_HOUR)
#define QUIET 0.35 /* share of records kept of the time before pictures */

/* Kinds of numbers drawn, so that none is used twice. */
enum {
  DRAW_GAP = 100,
  DRAW_HOUR,
  DRAW_KIND,
  DRAW_SPECIES,
  DRAW_COUNT,
  DRAW_SPREAD,
  DRAW_PLACE,
  DRAW_VISIT,
  DRAW_METER,
};

typedef struct {
  TptStore *store;
  const char *folder;
  GCancellable *cancellable;
  gint64 observation; /* running number of observations */
} Demo;

/* One station while its two years are told. */
typedef struct {
  Demo *demo;
  const DemoStation *station;
  guint number;
  char *deployment; /* (owned) */
  gint64 deployment_id;
  TptInstant start, end;  /* of the deployment; end: none */
  TptInstant fitted_at;   /* the card now in the camera */
  guint visits, cards;
  gint64 file_number;
  double charge[4];       /* percent: camera, trigger, flash, pack */
  double frame_mb, card_gb;
} Told;

static gboolean
save (Demo *demo, TptRecord *record, GError **error)
{
  return tpt_store_save (demo->store, record, NULL, NULL, error);
}

#define NAMES(...) ((const char *const[]){ __VA_ARGS__, NULL })
#define CELLS(...) ((const char *const[]){ __VA_ARGS__, NULL })

static gboolean
write_stations (Demo *demo, GError **error)
{
  for (guint i = 0; i < demo_n_stations; i++)
    {
      const DemoStation *s = &demo_stations[i];
      g_autoptr (TptRecord) record = tpt_record_new (TPT_TABLE_STATIONS);

      tpt_record_set_text (record, "station", s->code);
      tpt_record_set_text (record, "name", s->name);
      tpt_record_set_real (record, "latitude", s->latitude);
      tpt_record_set_real (record, "longitude", s->longitude);
      tpt_record_set_real (record, "uncertainty_m", 8);
      tpt_record_set_real (record, "elevation_m", s->elevation_m);
      tpt_record_set_text (record, "feature", s->feature);
      tpt_record_set_text (record, "habitat", s->elevation_m > 120 ? "hill dipterocarp forest" : "lowland dipterocarp forest");
      tpt_record_set_text (record, "sensitivity", s->sensitivity);
      tpt_record_set_text (record, "access", s->elevation_m > 120 ? "steep; slippery after rain" : "flat; floods after heavy rain");
      if (!save (demo, record, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
write_tracks (Demo *demo, GError **error)
{
  for (guint i = 0; i < demo_n_tracks; i++)
    {
      g_autoptr (TptTrack) track = tpt_track_new (demo_tracks[i].kind, demo_tracks[i].name, demo_tracks[i].area);
      gboolean added;

      for (const double *p = demo_tracks[i].points; p[0] != 0; p += 2)
        tpt_track_add_point (track, p[0], p[1]);
      tpt_track_end_line (track);
      if (!tpt_store_add_track (demo->store, track, &added, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
write_species (Demo *demo, GError **error)
{
  for (guint i = 0; i < demo_n_species; i++)
    {
      g_autoptr (TptRecord) record = tpt_record_new (TPT_TABLE_SPECIES);

      tpt_record_set_text (record, "scientific_name", demo_species[i].scientific_name);
      tpt_record_set_text (record, "rank", "species");
      tpt_record_set_text (record, "sensitivity", demo_species[i].sensitivity);
      tpt_record_set_name (record, "en", demo_species[i].english);
      tpt_record_set_name (record, "ms", demo_species[i].malay);
      tpt_record_set_name (record, "es", demo_species[i].spanish);
      if (!save (demo, record, error))
        return FALSE;
    }
  return TRUE;
}

static char *
unit_code (const char *letter, guint number)
{
  return g_strdup_printf ("%s-%02u", letter, number);
}

static gboolean
write_unit (Demo *demo, const char *letter, guint number, const char *kind, const char *label, const char *const *names,
            const char *const *cells, GError **error)
{
  g_autoptr (TptRecord) record = tpt_record_new (TPT_TABLE_UNITS);
  g_autofree char *code = unit_code (letter, number);
  g_autofree char *serial = g_strdup_printf ("%08" G_GINT64_MODIFIER "X", (gint64) (sci_random_bits (number, (guint64) *letter, 7) >> 32));

  tpt_record_set_text (record, "unit", code);
  tpt_record_set_text (record, "kind", kind);
  tpt_record_set_text (record, "label", label);
  tpt_record_set_text (record, "acquired", "2024-05-20");
  if (!g_str_equal (kind, "card") && !g_str_equal (kind, "housing"))
    tpt_record_set_text (record, "serial", serial);
  for (guint i = 0; names[i] != NULL; i++)
    if (!tpt_record_set_from_string (record, names[i], cells[i], NULL, error))
      return FALSE;
  return save (demo, record, error);
}

/* Values of a small trail camera, a beam pair, a flash and a pack, all
 * invented but of the usual size. */
static gboolean
write_rig_units (Demo *demo, guint i, GError **error)
{
  const DemoStation *s = &demo_stations[i];
  const char *gigabytes = s->fate == DEMO_LOW_CARD || s->fate == DEMO_CARD_FULL ? "2" : "32";

  if (!write_unit (demo, "K", i + 1, "camera", "camera cells",
                   NAMES ("make", "model", "housing", "sensor", "chemistry", "cells_series", "cells_parallel", "cell_mah",
                          "sleep_ma", "awake_ma", "awake_s", "frame_mas"),
                   CELLS ("Fern & Ford", "Trail 2", i % 3 == 0 ? "sealed case" : "steel box", s->beam ? "" : "passive-infrared",
                          "nimh", "8", "1", "2000", "0.7", "240", "12", "350"),
                   error) ||
      !write_unit (demo, "C", 2 * i + 1, "card", "card", NAMES ("capacity_gb"), CELLS (gigabytes), error) ||
      !write_unit (demo, "C", 2 * i + 2, "card", "card", NAMES ("capacity_gb"), CELLS (gigabytes), error) ||
      !write_unit (demo, "H", i + 1, "housing", "housing", NAMES ("housing"), CELLS (i % 3 == 0 ? "sealed case" : "steel box"), error))
    return FALSE;
  if (s->beam &&
      !write_unit (demo, "T", i + 1, "trigger", "beam cells",
                   NAMES ("sensor", "chemistry", "cells_series", "cells_parallel", "cell_mah", "sleep_ma", "awake_ma", "awake_s"),
                   CELLS ("active-beam", "alkaline", "4", "1", "2500", "0.9", "20", "4"), error))
    return FALSE;
  for (guint f = 0; f < s->flashes; f++)
    if (!write_unit (demo, "F", 2 * i + f + 1, "flash", f == 0 ? "left flash" : "right flash",
                     NAMES ("chemistry", "cells_series", "cells_parallel", "cell_mah", "sleep_ma", "flash_ws", "power_fraction"),
                     CELLS ("alkaline", "4", "2", "2500", "1.1", "40", "0.0625"), error))
      return FALSE;
  return !s->pack || write_unit (demo, "P", i + 1, "pack", "power pack",
                                 NAMES ("chemistry", "cells_series", "cells_parallel", "cell_mah", "sleep_ma"),
                                 CELLS ("lead-acid", "6", "1", "7000", "2.6"), error);
}

/* Units that died and lie in the workshop, or are gone. */
static gboolean
write_lost_units (Demo *demo, GError **error)
{
  return write_unit (demo, "K", 91, "camera", "camera cells", NAMES ("make", "model", "retired", "retire_cause", "notes"),
                     CELLS ("Fern & Ford", "Trail 1", "2025-01-18", "moisture", "water in the lens after the January flood"), error) &&
         write_unit (demo, "K", 92, "camera", "camera cells", NAMES ("make", "model", "retired", "retire_cause", "notes"),
                     CELLS ("Fern & Ford", "Trail 1", "2025-09-02", "insects", "ants nested on the board"), error) &&
         write_unit (demo, "T", 91, "trigger", "beam cells", NAMES ("sensor", "retired", "retire_cause", "notes"),
                     CELLS ("active-beam", "2025-06-11", "animal", "cable bitten through twice"), error) &&
         write_unit (demo, "F", 91, "flash", "flash cells", NAMES ("retired", "retire_cause"), CELLS ("2024-11-30", "fall"), error) &&
         write_unit (demo, "K", 93, "camera", "camera cells", NAMES ("make", "model", "notes"),
                     CELLS ("Fern & Ford", "Trail 2", "spare on the shelf"), error) &&
         write_unit (demo, "C", 91, "card", "card", NAMES ("capacity_gb"), CELLS ("32"), error) &&
         write_unit (demo, "C", 92, "card", "card", NAMES ("capacity_gb"), CELLS ("32"), error);
}

static gboolean
write_units (Demo *demo, GError **error)
{
  for (guint i = 0; i < demo_n_stations; i++)
    if (!write_rig_units (demo, i, error))
      return FALSE;
  return write_lost_units (demo, error);
}

static gboolean
fit (Told *told, const char *letter, guint number, TptInstant from, TptInstant to, GError **error)
{
  g_autoptr (TptRecord) record = tpt_record_new (TPT_TABLE_FITTINGS);
  g_autofree char *unit = unit_code (letter, number);

  tpt_record_set_text (record, "deployment", told->deployment);
  tpt_record_set_text (record, "unit", unit);
  tpt_record_set_instant (record, "from", from);
  tpt_record_set_instant (record, "to", to);
  return save (told->demo, record, error);
}

static gboolean
set_out (Told *told, GError **error)
{
  g_autoptr (TptRecord) record = tpt_record_new (TPT_TABLE_DEPLOYMENTS);
  const DemoStation *s = told->station;
  guint n = told->number;

  tpt_record_set_text (record, "deployment", told->deployment);
  tpt_record_set_text (record, "station", s->code);
  tpt_record_set_instant (record, "start", told->start);
  tpt_record_set_instant (record, "end", told->end);
  tpt_record_set_integer (record, "frames_per_trigger", FRAMES_PER_TRIGGER);
  tpt_record_set_real (record, "frame_mb", told->frame_mb);
  tpt_record_set_real (record, "sensor_height_m", s->beam ? 0.45 : 0.6);
  tpt_record_set_real (record, "heading_deg", floor (360 * sci_random_uniform (n, DRAW_PLACE, 1)));
  tpt_record_set_real (record, "temperature_c", 26);
  if (!save (told->demo, record, error))
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

/* A burst: when it began, and what walked by. */
typedef struct {
  TptInstant at;
  int species; /* index, or -1 blank, -2 person, -3 not looked at yet */
  int animals;
} Burst;

/* By the hours a species keeps: a wrapped normal around its peak. */
static double
draw_hour (const DemoSpecies *species, guint64 key)
{
  double spread = 0;

  for (guint i = 0; i < 6; i++)
    spread += sci_random_uniform (key, DRAW_SPREAD, i) - 0.5;
  return fmod (species->peak + spread * 1.414 * species->spread + 48, 24);
}

static int
draw_species (guint station, guint64 key)
{
  double total = 0, at;

  for (guint pass = 0; pass < 2; pass++)
    {
      at = pass == 1 ? total * sci_random_uniform (key, DRAW_SPECIES, 1) : 0;
      for (guint i = 0; i < demo_n_species; i++)
        {
          /* Every place suits some better than others. */
          double suits = 0.15 + 2 * pow (sci_random_uniform (station, DRAW_PLACE, 50 + i), 2);

          if (pass == 0)
            total += demo_species[i].weight * suits;
          else if ((at -= demo_species[i].weight * suits) < 0)
            return (int) i;
        }
    }
  return 0;
}

static Burst
draw_burst (guint station, gint64 day, guint of_day)
{
  guint64 key = ((guint64) station << 40) + ((guint64) day << 8) + of_day;
  double kind = sci_random_uniform (key, DRAW_KIND, 1), hour = 24 * sci_random_uniform (key, DRAW_HOUR, 1);
  Burst burst = { 0, -1, 0 };

  if (kind < 0.52)
    {
      burst.species = draw_species (station, key);
      hour = draw_hour (&demo_species[burst.species], key);
      burst.animals = 1 + (int) (demo_species[burst.species].group * pow (sci_random_uniform (key, DRAW_COUNT, 1), 3));
    }
  else if (kind > 0.97)
    burst.species = -2;
  else if (kind > 0.93)
    burst.species = -3;
  burst.at = day * TPT_DAY + (TptInstant) (hour * TPT_HOUR) - ZONE_MS;
  return burst;
}

static int
compare_bursts_cb (gconstpointer a, gconstpointer b)
{
  const Burst *x = a, *y = b;

  return (x->at > y->at) - (x->at < y->at);
}

/* The bursts of a station between two moments, by time. @busy raises the rate. */
static GArray *
draw_bursts (const Told *told, TptInstant from, TptInstant to, double busy)
{
  GArray *bursts = g_array_new (FALSE, FALSE, sizeof (Burst));
  double rate = told->station->triggers_per_day * busy;

  for (gint64 day = (from + ZONE_MS) / TPT_DAY; day <= (to + ZONE_MS) / TPT_DAY; day++)
    {
      /* A number of bursts with the right mean and some clumping. */
      double u = sci_random_uniform (told->number, DRAW_GAP, (guint64) day);
      guint n = (guint) floor (-log (1 - u * 0.9995) * rate + sci_random_uniform (told->number, DRAW_GAP + 1000, (guint64) day) * 0.5);

      for (guint i = 0; i < n; i++)
        {
          Burst burst = draw_burst (told->number, day, i);

          if (burst.at > from + TPT_HOUR && burst.at < to - TPT_HOUR)
            g_array_append_val (bursts, burst);
        }
    }
  g_array_sort (bursts, compare_bursts_cb);
  return bursts;
}

static gboolean
is_night (TptInstant at)
{
  gint64 hour = ((at + ZONE_MS) % TPT_DAY) / TPT_HOUR;

  return hour < 6 || hour >= 18;
}

static gboolean
write_observation (Told *told, const Burst *burst, gboolean pictured, GError **error)
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
  tpt_record_set_instant (record, "end", burst->at + (FRAMES_PER_TRIGGER - 1) * BURST_MS);
  tpt_record_set_text (record, "type", type);
  if (burst->species >= 0)
    {
      tpt_record_set_text (record, "scientific_name", demo_species[burst->species].scientific_name);
      tpt_record_set_integer (record, "count", burst->animals);
    }
  tpt_record_set_text (record, "identified_by", "Mira");
  return save (told->demo, record, error);
}

/* The pictures of a batch on their way to disk and to the record. */
typedef struct {
  Told *told;
  GArray *bursts;
  GArray *frames;     /* (owned) (element-type TptNewFrame) */
  GPtrArray *strings; /* (owned) */
  char *serial;       /* (owned) */
} Roll;

static char *
keep (Roll *roll, char *text)
{
  g_ptr_array_add (roll->strings, text);
  return text;
}

static gboolean
write_picture (const char *path, const TptScene *scene, TptReading reading, const char *serial, double temperature, GError **error)
{
  g_autofree guint8 *pixels = tpt_scene_render (scene);
  TptExifStamp stamp = {
    .reading = reading,
    .make = "Fern & Ford",
    .model = "Trail 2",
    .serial = serial,
    .temperature_c = temperature,
    .flash = scene->night,
  };

  return tpt_picture_file_write (path, pixels, TPT_SCENE_WIDTH, TPT_SCENE_HEIGHT, &stamp, error);
}

static gboolean
shoot (Roll *roll, guint burst_index, int step, GError **error)
{
  Told *told = roll->told;
  const Burst *burst = &g_array_index (roll->bursts, Burst, burst_index);
  TptInstant at = burst->at + step * BURST_MS;
  TptReading reading = { at + ZONE_MS, TPT_NO_OFFSET };
  TptScene scene = {
    .place = 1000 + told->number,
    .trigger = (guint64) burst->at,
    .night = is_night (at),
    .animal = burst->species >= 0 ? demo_species[burst->species].size : burst->species == -2 ? 4 : 0,
    .step = step,
  };
  char *file = keep (roll, g_strdup_printf ("pictures/%s/IMG_%05" G_GINT64_FORMAT ".JPG", told->deployment, ++told->file_number));
  g_autofree char *path = g_build_filename (told->demo->folder, file, NULL);
  g_autofree char *content = NULL;
  gsize bytes;
  TptNewFrame frame = { 0 };

  if (!write_picture (path, &scene, reading, roll->serial, scene.night ? 24 : 29, error) ||
      !g_file_get_contents (path, &content, &bytes, error))
    return FALSE;
  frame.file = file;
  frame.camera_time = keep (roll, tpt_reading_format (reading));
  frame.time_source = "exif-original";
  frame.at = at;
  frame.sha256 = keep (roll, g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *) content, bytes));
  frame.bytes = (gint64) bytes;
  frame.trigger = (int) burst_index;
  g_array_append_val (roll->frames, frame);
  return TRUE;
}

static gboolean
write_batch (Told *told, GArray *bursts, GError **error)
{
  g_autoptr (GArray) frames = g_array_new (FALSE, TRUE, sizeof (TptNewFrame));
  g_autoptr (GPtrArray) strings = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *serial = g_strdup_printf ("FF2%05u", 1000 + told->number);
  g_autofree char *folder = g_build_filename (told->demo->folder, "pictures", told->deployment, NULL);
  g_autofree char *relative = g_strdup_printf ("pictures/%s", told->deployment);
  g_autofree char *code = NULL;
  Roll roll = { told, bursts, frames, strings, serial };
  TptNewBatch batch = { 0 };

  if (bursts->len == 0)
    return TRUE;
  code = tpt_store_make_batch_code (told->demo->store, told->deployment, error);
  if (code == NULL)
    return FALSE;
  g_mkdir_with_parents (folder, 0777);
  for (guint i = 0; i < bursts->len; i++)
    for (int step = 0; step < FRAMES_PER_TRIGGER; step++)
      if (g_cancellable_set_error_if_cancelled (told->demo->cancellable, error) || !shoot (&roll, i, step, error))
        return FALSE;

  batch.batch = code;
  batch.deployment_id = told->deployment_id;
  batch.source = "card";
  batch.folder = relative;
  batch.clock_true = TPT_NO_INSTANT;
  batch.clock_offset_s = 0;
  batch.frames = (const TptNewFrame *) (gpointer) frames->data;
  batch.n_frames = frames->len;
  return tpt_store_add_batch (told->demo->store, &batch, error);
}

static gboolean
write_reading (Told *told, const char *visit, const char *letter, guint number, const char *state, double percent,
               const char *action, GError **error)
{
  g_autoptr (TptRecord) record = tpt_record_new (TPT_TABLE_READINGS);
  g_autofree char *unit = unit_code (letter, number);

  tpt_record_set_text (record, "visit", visit);
  tpt_record_set_text (record, "unit", unit);
  tpt_record_set_text (record, "state", state);
  if (!isnan (percent))
    tpt_record_set_real (record, "percent", round (percent));
  tpt_record_set_text (record, "action", action);
  return save (told->demo, record, error);
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
} Visit;

/* Percent of charge a day: camera, beam, flash, pack. */
static const double drains[] = { 1.0, 0.85, 0.75, 0.95 };

static gboolean
write_meter (Told *told, const char *visit, const Visit *v, guint kind, const char *letter, guint number, GError **error)
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
write_readings (Told *told, const char *visit, const Visit *v, GError **error)
{
  const DemoStation *s = told->station;
  guint n = told->number;

  if (!write_meter (told, visit, v, 0, "K", n + 1, error) || (s->beam && !write_meter (told, visit, v, 1, "T", n + 1, error)) ||
      (s->pack && !write_meter (told, visit, v, 3, "P", n + 1, error)))
    return FALSE;
  for (guint f = 0; f < s->flashes; f++)
    if (!write_meter (told, visit, v, 2, "F", 2 * n + f + 1, error))
      return FALSE;
  return write_reading (told, visit, "C", 2 * n + 1 + told->cards % 2, NULL, NAN, v->swap_card ? "swapped" : "none", error);
}

static char *
write_visit (Told *told, const Visit *v, GError **error)
{
  g_autoptr (TptRecord) record = tpt_record_new (TPT_TABLE_VISITS);
  g_autofree char *time = tpt_instant_format (v->at, tpt_store_get_zone (told->demo->store));
  g_autofree char *code = g_strdup_printf ("%s-%.10s", told->station->code, time);
  TptReading shown = { v->at + ZONE_MS - (TptInstant) (v->clock_slow_s * TPT_SECOND), TPT_NO_OFFSET };
  g_autofree char *clock = NULL;

  if (v->clock_reset) /* the maker's date, and three days since */
    shown.clock_ms = tpt_days_from_civil (2020, 1, 1) * TPT_DAY + 3 * TPT_DAY + 5 * TPT_HOUR;
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
  if (!save (told->demo, record, error) || !write_readings (told, code, v, error))
    return NULL;
  told->visits++;
  return g_steal_pointer (&code);
}

static void
drain (Told *told, double days)
{
  for (guint i = 0; i < G_N_ELEMENTS (drains); i++)
    told->charge[i] = MAX (0, told->charge[i] - drains[i] * days);
}

static gboolean
swap_card (Told *told, TptInstant at, GError **error)
{
  gboolean good = fit (told, "C", 2 * told->number + 1 + told->cards % 2, told->fitted_at, at, error);

  told->cards++;
  told->fitted_at = at;
  return good;
}

static double
frames_that_fit (const Told *told)
{
  return floor (told->card_gb * 1000 / told->frame_mb);
}

/* The last visit before the moment the demo stands at, by the station's fate. */
static TptInstant
last_visit_at (const Told *told)
{
  static const double days_before[] = {
    [DEMO_FINE] = 8, [DEMO_WANING] = 26, [DEMO_LOW_CARD] = 24, [DEMO_CARD_FULL] = 13, [DEMO_DEAD] = 16, [DEMO_MISSED] = 47,
    [DEMO_BROUGHT_IN] = 61,
  };

  return TPT_DEMO_NOW - (TptInstant) ((days_before[told->station->fate] + 0.2 * (told->number % 5)) * TPT_DAY);
}

/* What the meters showed at the last visit, where that matters to the story. */
static void
set_meters (Told *told)
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
tell_stretch (Told *told, TptInstant from, Visit *v, gboolean pictured, GError **error)
{
  gboolean leafy = g_str_equal (v->found, "card-full"); /* leaves before the beam fill it */
  g_autoptr (GArray) bursts = draw_bursts (told, from, v->at, leafy ? 4 : pictured ? 1 : QUIET);
  g_autofree char *code = NULL;
  guint fits = (guint) (frames_that_fit (told) / FRAMES_PER_TRIGGER);

  drain (told, (double) (v->at - from) / TPT_DAY);
  if (v->at == last_visit_at (told))
    set_meters (told);
  if (g_str_equal (v->found, "dead") && bursts->len > 6)
    g_array_set_size (bursts, bursts->len * 2 / 3);
  if (leafy && bursts->len > fits)
    g_array_set_size (bursts, fits);
  v->frames = (gint64) bursts->len * FRAMES_PER_TRIGGER;
  code = write_visit (told, v, error);
  if (code == NULL || (pictured && !write_batch (told, bursts, error)))
    return FALSE;
  for (guint i = 0; i < bursts->len; i++)
    if (!write_observation (told, &g_array_index (bursts, Burst, i), pictured, error))
      return FALSE;
  return !v->swap_card || swap_card (told, v->at, error);
}

/* Troubles along the way, a few for each station. */
static void
draw_trouble (const Told *told, Visit *v)
{
  double u = sci_random_uniform (told->number, DRAW_VISIT, told->visits);

  if (told->visits < 2)
    return;
  if (u < 0.03)
    {
      v->found = "dead";
      v->notes = "water in the housing; dried, seal renewed";
    }
  else if (u < 0.05)
    {
      v->found = "disturbed";
      v->notes = "pushed over by a pig; set upright";
    }
  else if (u < 0.07)
    v->notes = "ants in the housing, cleaned";
  else if (u < 0.09)
    v->notes = "cable chewed, taped";
  v->clock_slow_s = floor (90 * sci_random_uniform (told->number, DRAW_VISIT + 1, told->visits));
}

static Visit
plan_visit (Told *told, TptInstant at, gboolean last)
{
  Visit v = { .at = at, .found = "working", .swap_cells = TRUE, .swap_card = TRUE };
  DemoFate fate = told->station->fate;

  draw_trouble (told, &v);
  if (!last)
    return v;
  if (fate == DEMO_WANING || fate == DEMO_MISSED)
    v.swap_cells = FALSE;
  v.found = "working";
  v.notes = NULL;
  if (fate == DEMO_CARD_FULL)
    {
      v = (Visit){ .at = at, .found = "card-full", .notes = "leaves before the beam; no spare card left" };
    }
  else if (fate == DEMO_DEAD)
    v = (Visit){ .at = at, .found = "dead", .notes = "power pack out, no spare along" };
  else if (told->number == 4) /* the reset clock, whose card is not taken in yet */
    v.clock_slow_s = 0;
  return v;
}

static gboolean
tell_station (Told *told, GError **error)
{
  TptInstant last = last_visit_at (told), from = told->start;

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
  if (told->end != TPT_NO_INSTANT)
    return told->fitted_at >= told->end ||
           fit (told, "C", 2 * told->number + 1 + told->cards % 2, told->fitted_at, told->end, error);
  return fit (told, "C", 2 * told->number + 1 + told->cards % 2, told->fitted_at, TPT_NO_INSTANT, error);
}

static gboolean
tell (Demo *demo, guint number, GError **error)
{
  const DemoStation *s = &demo_stations[number];
  TptInstant start = TPT_DEMO_NOW - (TptInstant) (DAYS - 3 * number) * TPT_DAY - 6 * TPT_HOUR;
  Told told = {
    .demo = demo,
    .station = s,
    .number = number,
    .start = start,
    .end = TPT_NO_INSTANT,
    .fitted_at = start,
    .charge = { 100, 100, 100, 100 },
    .frame_mb = 9,
    .card_gb = s->fate == DEMO_LOW_CARD || s->fate == DEMO_CARD_FULL ? 2 : 32,
  };
  gboolean good;

  told.deployment = g_strdup_printf ("%s-1", s->code);
  if (s->fate == DEMO_BROUGHT_IN)
    told.end = last_visit_at (&told);
  good = tell_station (&told, error);
  g_free (told.deployment);
  return good;
}

/* Cards that came home and wait: what they hold since the last visit. */
typedef struct {
  const char *name;
  guint station;
  gboolean reset; /* the camera's clock fell back to the maker's date */
} DemoCard;

static const DemoCard cards[] = {
  { "card-moss", 4, TRUE },
  { "card-duri", 12, FALSE },
};

static gboolean
write_card_picture (Demo *demo, const DemoCard *card, const char *folder, const Burst *burst, int step, guint number,
                    TptInstant last, GError **error)
{
  g_autofree char *name = g_strdup_printf ("IMG_%04u.JPG", number);
  g_autofree char *path = g_build_filename (folder, name, NULL);
  g_autofree char *serial = g_strdup_printf ("FF2%05u", 1000 + card->station);
  TptInstant at = burst->at + step * BURST_MS;
  TptReading reading = { at + ZONE_MS, TPT_NO_OFFSET };
  TptScene scene = {
    .place = 1000 + card->station,
    .trigger = (guint64) burst->at,
    .night = is_night (at),
    .animal = burst->species >= 0 ? demo_species[burst->species].size : 0,
    .step = step,
  };

  if (card->reset)
    reading.clock_ms = tpt_days_from_civil (2020, 1, 1) * TPT_DAY + (at - last);
  return write_picture (path, &scene, reading, serial, scene.night ? 24 : 29, error);
}

/* What goes wrong on cards: one picture cut short, one empty. */
static gboolean
spoil_card (const char *folder, guint number, GError **error)
{
  g_autofree char *cut = g_build_filename (folder, "IMG_0002.JPG", NULL);
  g_autofree char *name = g_strdup_printf ("IMG_%04u.JPG", number);
  g_autofree char *empty = g_build_filename (folder, name, NULL);
  g_autofree char *content = NULL;
  gsize length;

  return g_file_get_contents (cut, &content, &length, error) &&
         g_file_set_contents (cut, content, (gssize) (length * 2 / 3), error) && g_file_set_contents (empty, "", 0, error);
}

static gboolean
write_card (Demo *demo, const DemoCard *card, GError **error)
{
  Told told = { .demo = demo, .station = &demo_stations[card->station], .number = card->station };
  TptInstant last = last_visit_at (&told);
  g_autoptr (GArray) bursts = draw_bursts (&told, last, TPT_DEMO_NOW, 2.5);
  g_autofree char *folder = g_build_filename (demo->folder, "cards", card->name, "DCIM", "100TRAIL", NULL);
  guint number = 0;

  if (g_mkdir_with_parents (folder, 0777) != 0)
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_IO, "%s", folder);
      return FALSE;
    }
  for (guint i = 0; i < bursts->len; i++)
    for (int step = 0; step < FRAMES_PER_TRIGGER; step++)
      if (g_cancellable_set_error_if_cancelled (demo->cancellable, error) ||
          !write_card_picture (demo, card, folder, &g_array_index (bursts, Burst, i), step, ++number, last, error))
        return FALSE;
  return card->reset || spoil_card (folder, number + 1, error);
}

static gboolean
write_card_note (Demo *demo, GError **error)
{
  g_autofree char *path = g_build_filename (demo->folder, "cards", "about these cards.txt", NULL);
  Told told = { .station = &demo_stations[cards[0].station], .number = cards[0].station };
  g_autofree char *started = tpt_instant_format (last_visit_at (&told), tpt_store_get_zone (demo->store));
  g_autofree char *text = g_strdup_printf (
    "Two cards that came home and are not taken in yet.\n\n"
    "card-moss   deployment MOSS-1. The camera's clock fell back to 2020-01-01 00:00\n"
    "            at the last visit, %s. Give that pair when you take it in:\n"
    "            tapetum intake kelabau.gpkg --deployment MOSS-1 cards/card-moss \\\n"
    "              --clock-read 2020-01-01T00:00:00 --clock-true %s\n"
    "card-duri   deployment DURI-1. One picture is cut short, one file is empty.\n"
    "            tapetum intake kelabau.gpkg --deployment DURI-1 cards/card-duri\n",
    started, started);

  return g_file_set_contents (path, text, -1, error);
}

static gboolean
write_tables (Demo *demo, GError **error)
{
  g_autoptr (TptAction) action = tpt_action_begin (demo->store, "Import the station list", error);

  return action != NULL && write_stations (demo, error) && write_tracks (demo, error) && write_species (demo, error) &&
         write_units (demo, error) && tpt_store_set_setting (demo->store, "clock_at", "2026-06-12T17:00:00+08:00", error) &&
         tpt_store_set_setting (demo->store, "round_at", "2026-06-20T08:00:00+08:00", error) && tpt_action_commit (action, error);
}

gboolean
tpt_demo_fill (TptStore *store, const char *folder, GCancellable *cancellable, GError **error)
{
  Demo demo = { store, folder, cancellable, 0 };

  if (!write_tables (&demo, error))
    return FALSE;
  for (guint i = 0; i < demo_n_stations; i++)
    {
      g_autofree char *what = g_strdup_printf ("Two years at %s", demo_stations[i].name);
      g_autoptr (TptAction) action = tpt_action_begin (store, what, error);

      if (action == NULL || !tell (&demo, i, error) || !tpt_action_commit (action, error))
        return FALSE;
    }
  for (guint i = 0; i < G_N_ELEMENTS (cards); i++)
    if (!write_card (&demo, &cards[i], error))
      return FALSE;
  return write_card_note (&demo, error);
}
