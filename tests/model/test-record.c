#include "config.h"

#include "tpt-error.h"
#include "tpt-record.h"

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
    { TPT_TABLE_STATIONS, "latitude", "NaN", NULL },
    { TPT_TABLE_STATIONS, "latitude", "-Infinity", NULL },
    { TPT_TABLE_STATIONS, "latitude", "1e2", NULL },
    { TPT_TABLE_STATIONS, "latitude", "1e1", "10" },
    { TPT_TABLE_STATIONS, "latitude", "-0", "-0" },
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

      g_test_message ("row %u: %s", (guint) i, cases[i].column); /* the text need not be UTF-8 */
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

/* Every column set from what it writes comes to the same, and an empty cell unsets it. */
static void
test_round_trip (void)
{
  static const struct {
    TptTableId table;
    const char *cells;
  } cases[] = {
    { TPT_TABLE_STATIONS, "station=OAK|name=Old oak|latitude=-16.85|longitude=179.9996|uncertainty_m=4.5|elevation_m=-3|"
                          "feature=trail|habitat=forest|sensitivity=high|access=by boat|notes=two\nlines" },
    { TPT_TABLE_UNITS, "unit=K1|kind=camera|label=Grey box|make=Invented|model=M|serial=7|acquired=2024-02-29|retired=2025-01-01|"
                       "retire_cause=insects|housing=steel|sensor=passive-infrared|chemistry=nimh|cell_size=AA|cells_series=4|cells_parallel=2|"
                       "cell_mah=1900|sleep_ma=0.1|awake_ma=250|awake_s=2|frame_mas=300|flash_ws=0.7|power_fraction=0.25|"
                       "capacity_gb=32|notes=n" },
    { TPT_TABLE_DEPLOYMENTS, "deployment=D1|station=OAK|start=2026-03-29T04:00:00+03:00|end=2026-10-25T03:30:00+02:00|"
                             "frames_per_trigger=3|frame_mb=4.25|sensor_height_m=0.5|heading_deg=360|focal_mm=28|focus_m=2.5|"
                             "iso=400|temperature_c=-12.5|camera_clock_offset_s=-3600.5|notes=n" },
    { TPT_TABLE_FITTINGS, "deployment=D1|unit=K1|from=2026-05-01T00:00:00+03:00|to=2026-06-01T00:00:00.250+03:00" },
    { TPT_TABLE_VISITS, "visit=V1|station=OAK|at=2026-05-01T10:00:00+03:00|people=two of us|found=card-full|"
                        "camera_clock=2026-03-29T03:30:00|true_clock=2026-05-01T10:01:00+03:00|frames_on_card=0|left=armed|notes=n" },
    { TPT_TABLE_READINGS, "visit=V1|unit=K1|state=dead|volts=5.8|percent=0|action=swapped|replacement=K2|notes=n" },
    { TPT_TABLE_SPECIES, "scientific_name=Lynx lynx|rank=species|sensitivity=extreme" },
    { TPT_TABLE_FRAMES, "frame=F1|deployment=D1|file=a/b.jpg|camera_time=2026-05-01T10:00:00|sha256=00ff|bytes=1000000000000" },
    { TPT_TABLE_OBSERVATIONS, "observation=O1|deployment=D1|start=2026-05-01T10:00:00+03:00|end=2026-05-01T10:00:00+03:00|"
                              "type=animal|scientific_name=Lynx lynx|count=2|sex=female|life_stage=juvenile|behaviour=resting|"
                              "individual=F7|identified_by=a friend|identified_at=2026-05-02T00:00:00+03:00|certainty=0.3|notes=n|opinion=2" },
    { TPT_TABLE_UNIT_LOG, "entry=E1|unit=K1|at=2026-05-01T10:00:00+03:00|what=damage|cause=moisture|by=a friend|notes=n" },
    { TPT_TABLE_STOCK, "item=S1|what=cells|label=Blue box|cell_size=AA|chemistry=nimh|cell_mah=1900|capacity_gb=0|pieces=48|"
                       "place=shed|notes=n" },
  };
  g_autoptr (TptZone) zone = tpt_zone_new ("Europe/Bucharest", NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptRecord) record = tpt_record_new (cases[i].table);
      g_autoptr (TptRecord) again = tpt_record_new (cases[i].table);
      g_auto (GStrv) cells = g_strsplit (cases[i].cells, "|", -1);
      const TptTable *table = tpt_record_get_table (record);

      g_assert_cmpuint (g_strv_length (cells), ==, table->n_columns); /* none forgotten */
      for (guint c = 0; cells[c] != NULL; c++)
        {
          g_auto (GStrv) cell = g_strsplit (cells[c], "=", 2);
          g_autofree char *text = NULL;
          g_autoptr (GError) error = NULL;

          g_test_message ("%s", cells[c]);
          tpt_record_set_from_string (record, cell[0], cell[1], zone, &error);
          g_assert_no_error (error);
          text = tpt_record_to_string (record, cell[0], zone);
          g_assert_cmpstr (text, ==, cell[1]);
          g_assert_false (tpt_record_equal (record, again));
          g_assert_true (tpt_record_set_from_string (again, cell[0], text, zone, NULL));
          g_assert_true (tpt_record_equal (record, again));
        }
      g_assert_true (tpt_record_check (record, NULL, NULL));
      for (guint c = 0; c < table->n_columns; c++)
        {
          g_assert_true (tpt_record_set_from_string (record, table->columns[c].name, c % 2 == 0 ? " " : NULL, zone, NULL));
          g_assert_false (tpt_record_is_set (record, table->columns[c].name));
          g_assert_null (tpt_record_to_string (record, table->columns[c].name, zone));
        }
    }
}

/* A row as name=value pairs, and the column that is blamed. */
static void
test_check (void)
{
  static const struct {
    TptTableId table;
    const char *cells;
    const char *column; /* NULL: good */
  } cases[] = {
    { TPT_TABLE_STATIONS, "station=A", NULL },
    { TPT_TABLE_STATIONS, "name=Alder", "station" },
    { TPT_TABLE_STATIONS, "station=A|latitude=1|longitude=2", NULL },
    { TPT_TABLE_STATIONS, "station=A|latitude=1", "longitude" },
    { TPT_TABLE_STATIONS, "station=A|longitude=2", "latitude" },
    { TPT_TABLE_UNITS, "unit=K|kind=camera", NULL },
    { TPT_TABLE_UNITS, "unit=K", "kind" },
    { TPT_TABLE_DEPLOYMENTS, "deployment=D|station=A|start=2026-05-01", NULL },
    { TPT_TABLE_DEPLOYMENTS, "deployment=D|start=2026-05-01", "station" },
    { TPT_TABLE_DEPLOYMENTS, "deployment=D|station=A|end=2026-05-01", "start" },
    { TPT_TABLE_DEPLOYMENTS, "deployment=D|station=A|start=2026-05-02|end=2026-05-01", "end" },
    { TPT_TABLE_DEPLOYMENTS, "deployment=D|station=A|start=2026-05-01|end=2026-05-01", NULL },
    { TPT_TABLE_DEPLOYMENTS, "deployment=D|station=A|start=2026-10-25T03:30+03:00|end=2026-10-25T03:10+02:00", NULL }, /* clocks went back */
    { TPT_TABLE_FITTINGS, "deployment=D|unit=K|from=2026-05-02|to=2026-05-01", "to" },
    { TPT_TABLE_FITTINGS, "deployment=D|unit=K", "from" },
    { TPT_TABLE_VISITS, "visit=V|station=A|at=2026-05-01", NULL },
    { TPT_TABLE_VISITS, "visit=V|station=A", "at" },
    { TPT_TABLE_VISITS, "visit=V|station=A|at=2026-05-01|camera_clock=2026-05-01T10:00", "true_clock" },
    { TPT_TABLE_VISITS, "visit=V|station=A|at=2026-05-01|true_clock=2026-05-01T10:00", "camera_clock" },
    { TPT_TABLE_READINGS, "visit=V", "unit" },
    { TPT_TABLE_SPECIES, "rank=species", "scientific_name" },
    { TPT_TABLE_FRAMES, "frame=F|deployment=D", "file" },
    { TPT_TABLE_OBSERVATIONS, "observation=O|deployment=D|start=2026-05-01|type=animal|scientific_name=Lynx lynx", NULL },
    { TPT_TABLE_OBSERVATIONS, "observation=O|deployment=D|start=2026-05-01|type=animal", NULL },
    { TPT_TABLE_OBSERVATIONS, "observation=O|deployment=D|start=2026-05-01|type=blank|scientific_name=Lynx lynx", "scientific_name" },
    { TPT_TABLE_OBSERVATIONS, "observation=O|deployment=D|start=2026-05-02|end=2026-05-01|type=blank", "end" },
    { TPT_TABLE_READINGS, "visit=V|unit=U|action=swapped|replacement=W", NULL },
    { TPT_TABLE_READINGS, "visit=V|unit=U|action=charged|replacement=W", "replacement" },
    { TPT_TABLE_UNIT_LOG, "entry=E|unit=U|at=2026-05-02|what=loss|cause=flood", NULL },
    { TPT_TABLE_UNIT_LOG, "entry=E|unit=U|at=2026-05-02|what=cleaning|cause=insects", "cause" },
    { TPT_TABLE_STOCK, "item=S|what=cells", "pieces" },
    { TPT_TABLE_OBSERVATIONS, "observation=O|deployment=D|start=2026-05-02", "type" },
  };
  g_autoptr (TptZone) zone = tpt_zone_new ("Europe/Bucharest", NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptRecord) record = tpt_record_new (cases[i].table);
      g_auto (GStrv) cells = g_strsplit (cases[i].cells, "|", -1);
      g_autoptr (GError) error = NULL;
      const char *column = NULL;

      for (guint c = 0; cells[c] != NULL; c++)
        {
          g_auto (GStrv) cell = g_strsplit (cells[c], "=", 2);
          g_assert_true (tpt_record_set_from_string (record, cell[0], cell[1], zone, NULL));
        }
      g_test_message ("%s", cases[i].cells);
      g_assert_cmpint (tpt_record_check (record, &column, &error), ==, cases[i].column == NULL);
      g_assert_cmpstr (column, ==, cases[i].column);
      if (cases[i].column != NULL)
        g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
    }
}

/* A reason is text for people: a long cell is cut between letters. */
static void
test_reasons (void)
{
  static const struct {
    TptTableId table;
    const char *column;
  } cases[] = {
    { TPT_TABLE_STATIONS, "latitude" },
    { TPT_TABLE_STATIONS, "sensitivity" },
    { TPT_TABLE_UNITS, "acquired" },
    { TPT_TABLE_UNITS, "cells_series" },
    { TPT_TABLE_VISITS, "at" },
    { TPT_TABLE_VISITS, "camera_clock" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    for (guint ahead = 0; ahead < 3; ahead++)
      {
        g_autoptr (TptRecord) record = tpt_record_new (cases[i].table);
        g_autofree char *blanks = g_strnfill (ahead, 'x');
        g_autofree char *text = g_strconcat (blanks, "ありえない日付と数字の長い長い長い長い文", NULL);
        g_autoptr (GError) error = NULL;

        g_test_message ("%s, %u", cases[i].column, ahead);
        g_assert_false (tpt_record_set_from_string (record, cases[i].column, text, NULL, &error));
        g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
        g_assert_true (g_utf8_validate (error->message, -1, NULL));
      }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/record/values", test_values);
  g_test_add_func ("/record/refused-keeps", test_refused_keeps);
  g_test_add_func ("/record/overlay", test_overlay);
  g_test_add_func ("/record/round-trip", test_round_trip);
  g_test_add_func ("/record/check", test_check);
  g_test_add_func ("/record/reasons", test_reasons);
  return g_test_run ();
}
