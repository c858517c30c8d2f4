#include "config.h"

#include "sci-random.h"
#include "tpt-demo-private.h"
#include "tpt-query.h"
#include "tpt-records.h"

gboolean
tpt_demo_save (TptDemo *demo, TptRecord *record, GError **error)
{
  return tpt_store_save (demo->store, record, NULL, NULL, error);
}

#define NAMES(...) ((const char *const[]){ __VA_ARGS__, NULL })
#define CELLS(...) ((const char *const[]){ __VA_ARGS__, NULL })

static gboolean
write_stations (TptDemo *demo, GError **error)
{
  for (guint i = 0; i < demo_n_stations; i++)
    {
      const TptDemoStation *s = &demo_stations[i];
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
      if (!tpt_demo_save (demo, record, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
write_tracks (TptDemo *demo, GError **error)
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
write_species (TptDemo *demo, GError **error)
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
      if (!tpt_demo_save (demo, record, error))
        return FALSE;
    }
  return TRUE;
}

char *
tpt_demo_unit_code (const char *letter, guint number)
{
  return g_strdup_printf ("%s-%02u", letter, number);
}

char *
tpt_demo_camera_serial (guint station)
{
  return g_strdup_printf ("FF2%05u", 1000 + station);
}

/* A camera at a station tells its serial number in its pictures as well. */
static char *
make_serial (const char *letter, guint number)
{
  if (g_str_equal (letter, "K") && number <= demo_n_stations)
    return tpt_demo_camera_serial (number - 1);
  return g_strdup_printf ("%08" G_GINT64_MODIFIER "X", (gint64) (sci_random_bits (number, (guint64) *letter, 7) >> 32));
}

static gboolean
write_unit (TptDemo *demo, const char *letter, guint number, const char *kind, const char *label, const char *const *names,
            const char *const *cells, GError **error)
{
  g_autoptr (TptRecord) record = tpt_record_new (TPT_TABLE_UNITS);
  g_autofree char *code = tpt_demo_unit_code (letter, number);
  g_autofree char *serial = make_serial (letter, number);

  tpt_record_set_text (record, "unit", code);
  tpt_record_set_text (record, "kind", kind);
  tpt_record_set_text (record, "label", label);
  tpt_record_set_text (record, "acquired", "2024-05-20");
  if (!g_str_equal (kind, "card") && !g_str_equal (kind, "housing"))
    tpt_record_set_text (record, "serial", serial);
  for (guint i = 0; names[i] != NULL; i++)
    if (!tpt_record_set_from_string (record, names[i], cells[i], NULL, error))
      return FALSE;
  return tpt_demo_save (demo, record, error);
}

/* Values of a small trail camera, a beam pair, a flash and a pack, all
 * invented but of the usual size. */
static gboolean
write_rig_units (TptDemo *demo, guint i, GError **error)
{
  const TptDemoStation *s = &demo_stations[i];
  const char *gigabytes = s->fate == DEMO_LOW_CARD || s->fate == DEMO_CARD_FULL ? "2" : "32";

  if (!write_unit (demo, "K", i + 1, "camera", "camera cells",
                   NAMES ("make", "model", "housing", "sensor", "chemistry", "cell_size", "cells_series", "cells_parallel", "cell_mah",
                          "sleep_ma", "awake_ma", "awake_s", "frame_mas"),
                   CELLS ("Fern & Ford", "Trail 2", i % 3 == 0 ? "sealed case" : "steel box", s->beam ? "" : "passive-infrared",
                          "nimh", "AA", "8", "1", "2000", "0.7", "240", "12", "350"),
                   error) ||
      !write_unit (demo, "C", 2 * i + 1, "card", "card", NAMES ("capacity_gb"), CELLS (gigabytes), error) ||
      !write_unit (demo, "C", 2 * i + 2, "card", "card", NAMES ("capacity_gb"), CELLS (gigabytes), error) ||
      !write_unit (demo, "H", i + 1, "housing", "housing", NAMES ("housing"), CELLS (i % 3 == 0 ? "sealed case" : "steel box"), error))
    return FALSE;
  if (s->beam &&
      !write_unit (demo, "T", i + 1, "trigger", "beam cells",
                   NAMES ("sensor", "chemistry", "cell_size", "cells_series", "cells_parallel", "cell_mah", "sleep_ma", "awake_ma",
                          "awake_s"),
                   CELLS ("active-beam", "alkaline", "AA", "4", "1", "2500", "0.9", "20", "4"), error))
    return FALSE;
  for (guint f = 0; f < s->flashes; f++)
    if (!write_unit (demo, "F", 2 * i + f + 1, "flash", f == 0 ? "left flash" : "right flash",
                     NAMES ("chemistry", "cell_size", "cells_series", "cells_parallel", "cell_mah", "sleep_ma", "flash_ws",
                            "power_fraction"),
                     CELLS ("alkaline", "AA", "4", "2", "2500", "1.1", "40", "0.0625"), error))
      return FALSE;
  return !s->pack || write_unit (demo, "P", i + 1, "pack", "power pack",
                                 NAMES ("chemistry", "cell_size", "cells_series", "cells_parallel", "cell_mah", "sleep_ma"),
                                 CELLS ("lead-acid", "block", "6", "1", "7000", "2.6"), error);
}

/* Units that died and lie in the workshop, or are gone. */
static gboolean
write_lost_units (TptDemo *demo, GError **error)
{
  return write_unit (demo, "K", 91, "camera", "camera cells", NAMES ("make", "model", "housing", "retired", "retire_cause", "notes"),
                     CELLS ("Fern & Ford", "Trail 1", "steel box", "2025-01-18", "moisture", "water in the lens after the January flood"), error) &&
         write_unit (demo, "K", 92, "camera", "camera cells", NAMES ("make", "model", "housing", "retired", "retire_cause", "notes"),
                     CELLS ("Fern & Ford", "Trail 1", "steel box", "2025-09-02", "insects", "ants nested on the board"), error) &&
         write_unit (demo, "T", 91, "trigger", "beam cells", NAMES ("sensor", "retired", "retire_cause", "notes"),
                     CELLS ("active-beam", "2025-06-11", "animal", "cable bitten through twice"), error) &&
         write_unit (demo, "F", 91, "flash", "flash cells", NAMES ("retired", "retire_cause"), CELLS ("2024-11-30", "fall"), error) &&
         write_unit (demo, "K", 94, "camera", "camera cells", NAMES ("make", "model", "housing", "retired", "retire_cause"),
                     CELLS ("Fern & Ford", "Trail 1", "steel box", "2025-03-22", "theft"), error) &&
         write_unit (demo, "F", 92, "flash", "flash cells", NAMES ("retired", "retire_cause"), CELLS ("2025-01-18", "flood"), error) &&
         write_unit (demo, "P", 91, "pack", "power pack", NAMES ("retired", "retire_cause"), CELLS ("2025-12-06", "age"), error) &&
         write_unit (demo, "K", 93, "camera", "camera cells", NAMES ("make", "model", "notes"),
                     CELLS ("Fern & Ford", "Trail 2", "spare on the shelf"), error) &&
         write_unit (demo, "C", 91, "card", "card", NAMES ("capacity_gb"), CELLS ("32"), error) &&
         write_unit (demo, "C", 92, "card", "card", NAMES ("capacity_gb"), CELLS ("32"), error);
}

static gboolean
write_units (TptDemo *demo, GError **error)
{
  for (guint i = 0; i < demo_n_stations; i++)
    if (!write_rig_units (demo, i, error))
      return FALSE;
  return write_lost_units (demo, error);
}

gboolean
tpt_demo_write_lists (TptDemo *demo, GError **error)
{
  return write_stations (demo, error) && write_tracks (demo, error) && write_species (demo, error) && write_units (demo, error) &&
         tpt_demo_write_losses (demo, error) && tpt_demo_write_shelf (demo, error);
}
