#include "config.h"

#include "tpt-error.h"
#include "tpt-record.h"
#include "tpt-track.h"

/* Headers as scripts write them, and the table each is. */
static void
test_recognise (void)
{
  static const struct {
    const char *header;
    const char *table; /* NULL: none */
  } cases[] = {
    { "station,name,latitude,longitude,uncertainty_m,elevation_m,feature,habitat,sensitivity,access,notes", "stations" },
    { "longitude,latitude,station", "stations" },
    { "station", "stations" },
    { "unit,kind", "units" },
    { "deployment,station,start,end", "deployments" },
    { "deployment,unit,from,to", "fittings" },
    { "visit,station,at,people,found", "visits" },
    { "visit,unit,state,volts,percent,action,notes", "readings" },
    { "scientific_name,rank,sensitivity,common_en", "species" },
    { "frame,deployment,file,camera_time,sha256,bytes", "frames" },
    { "observation,deployment,start,end,type,scientific_name,count", "observations" },
    { "deployment,start", NULL },
    { "name,latitude", NULL },
    { "", NULL },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_auto (GStrv) names = g_strsplit (cases[i].header, ",", -1);
      const TptTable *table = tpt_table_recognise ((const char *const *) names);

      g_test_message ("%s", cases[i].header);
      g_assert_cmpstr (table != NULL ? table->name : NULL, ==, cases[i].table);
    }
}

static void
test_values (void)
{
  static const struct {
    TptTableId table;
    const char *column;
    const char *text;
    const char *back; /* NULL: refused; "": unset */
  } cases[] = {
    { TPT_TABLE_STATIONS, "latitude", "2.4128", "2.4128" },
    { TPT_TABLE_STATIONS, "latitude", " 2.4128 ", "2.4128" },
    { TPT_TABLE_STATIONS, "latitude", "-90", "-90" },
    { TPT_TABLE_STATIONS, "latitude", "0.1", "0.1" },
    { TPT_TABLE_STATIONS, "latitude", "", "" },
    { TPT_TABLE_STATIONS, "latitude", "90.0001", NULL },
    { TPT_TABLE_STATIONS, "latitude", "nan", NULL },
    { TPT_TABLE_STATIONS, "latitude", "inf", NULL },
    { TPT_TABLE_STATIONS, "latitude", "2,41", NULL },
    { TPT_TABLE_STATIONS, "latitude", "0x10", NULL },
    { TPT_TABLE_STATIONS, "latitude", "2.4N", NULL },
    { TPT_TABLE_STATIONS, "longitude", "180", "180" },
    { TPT_TABLE_STATIONS, "longitude", "180.1", NULL },
    { TPT_TABLE_STATIONS, "sensitivity", "high", "high" },
    { TPT_TABLE_STATIONS, "sensitivity", "High", NULL },
    { TPT_TABLE_STATIONS, "name", "\xff\xfe", NULL },
    { TPT_TABLE_STATIONS, "name", "a\x01" "b", NULL },
    { TPT_TABLE_STATIONS, "notes", "two\nlines", "two\nlines" },
    { TPT_TABLE_UNITS, "cells_series", "8", "8" },
    { TPT_TABLE_UNITS, "cells_series", "8.0", NULL },
    { TPT_TABLE_UNITS, "acquired", "2024-02-29", "2024-02-29" },
    { TPT_TABLE_UNITS, "acquired", "2023-02-29", NULL },
    { TPT_TABLE_VISITS, "at", "2026-07-01T12:00", "2026-07-01T09:00:00Z" },
    { TPT_TABLE_VISITS, "at", "2026-10-25T03:30", NULL },       /* comes twice in Bucharest */
    { TPT_TABLE_VISITS, "at", "2026-10-25T03:30+03:00", "2026-10-25T00:30:00Z" },
    { TPT_TABLE_VISITS, "at", "2026-03-29T03:30", NULL },       /* never comes */
    { TPT_TABLE_VISITS, "camera_clock", "2026-10-25T03:30", "2026-10-25T03:30" }, /* as the clock had it */
  };
  g_autoptr (TptZone) zone = tpt_zone_new ("Europe/Bucharest", NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptRecord) record = tpt_record_new (cases[i].table);
      g_autoptr (GError) error = NULL;
      g_autofree char *back = NULL;
      gboolean good = tpt_record_set_from_string (record, cases[i].column, cases[i].text, zone, &error);

      g_test_message ("%s “%s”", cases[i].column, cases[i].text);
      g_assert_cmpint (good, ==, cases[i].back != NULL);
      if (!good)
        {
          g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
          continue;
        }
      back = tpt_record_to_string (record, cases[i].column, NULL);
      g_assert_cmpstr (back != NULL ? back : "", ==, cases[i].back);
    }
}

/* A value that is refused leaves the record as it was. */
static void
test_refused_keeps (void)
{
  g_autoptr (TptRecord) record = tpt_record_new (TPT_TABLE_STATIONS);

  tpt_record_set_real (record, "latitude", 5);
  g_assert_false (tpt_record_set_from_string (record, "latitude", "far", NULL, NULL));
  g_assert_cmpfloat (tpt_record_get_real (record, "latitude"), ==, 5);
}

/* Only the columns of the newer source are taken over; an empty cell unsets. */
static void
test_overlay (void)
{
  g_autoptr (TptRecord) old = tpt_record_new (TPT_TABLE_SPECIES);
  g_autoptr (TptRecord) copy = NULL;
  g_autoptr (TptRecord) newer = tpt_record_new (TPT_TABLE_SPECIES);
  const char *const columns[] = { "scientific_name", "sensitivity", "common_en", NULL };

  tpt_record_set_text (old, "scientific_name", "Vulpes vulpes");
  tpt_record_set_text (old, "rank", "species");
  tpt_record_set_text (old, "sensitivity", "low");
  tpt_record_set_name (old, "en", "Fox");
  tpt_record_set_name (old, "es", "Zorro");
  copy = tpt_record_copy (old);
  g_assert_true (tpt_record_equal (old, copy));

  tpt_record_set_text (newer, "scientific_name", "Vulpes vulpes");
  tpt_record_set_name (newer, "en", "Red fox");
  tpt_record_overlay (old, newer, columns);
  g_assert_cmpstr (tpt_record_get_text (old, "rank"), ==, "species");
  g_assert_false (tpt_record_is_set (old, "sensitivity"));
  g_assert_cmpstr (g_hash_table_lookup (tpt_record_get_names (old), "en"), ==, "Red fox");
  g_assert_cmpstr (g_hash_table_lookup (tpt_record_get_names (old), "es"), ==, "Zorro");
  g_assert_false (tpt_record_equal (old, copy));
}

static void
test_track (void)
{
  g_autoptr (TptTrack) track = tpt_track_new ("trail", "Ridge", FALSE);

  tpt_track_add_point (track, 1, 2);
  tpt_track_end_line (track); /* one point is no line */
  tpt_track_add_point (track, 1, 2);
  tpt_track_add_point (track, 3, 4);
  tpt_track_end_line (track);
  g_assert_cmpuint (track->lengths->len, ==, 1);
  g_assert_cmpuint (track->points->len, ==, 4);
  g_assert_cmpstr (tpt_track_guess_kind (NULL, "Kelabau River", FALSE), ==, "river");
  g_assert_cmpstr (tpt_track_guess_kind ("hiking trail", NULL, FALSE), ==, "trail");
  g_assert_cmpstr (tpt_track_guess_kind (NULL, NULL, TRUE), ==, "boundary");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/model/recognise", test_recognise);
  g_test_add_func ("/model/values", test_values);
  g_test_add_func ("/model/refused-keeps", test_refused_keeps);
  g_test_add_func ("/model/overlay", test_overlay);
  g_test_add_func ("/model/track", test_track);
  return g_test_run ();
}
