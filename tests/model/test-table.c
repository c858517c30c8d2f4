#include "config.h"

#include <string.h>

#include "tpt-table.h"

static const struct {
  const char *table;
  const char *header;
} full[] = {
  /* The headers of the terminal contract, whole. */
  { "stations", "station,name,latitude,longitude,uncertainty_m,elevation_m,feature,habitat,sensitivity,access,notes" },
  { "units", "unit,kind,label,make,model,serial,acquired,retired,retire_cause,housing,sensor,chemistry,cells_series,"
             "cells_parallel,cell_mah,sleep_ma,awake_ma,awake_s,frame_mas,flash_ws,power_fraction,capacity_gb,notes" },
  { "deployments", "deployment,station,start,end,frames_per_trigger,frame_mb,sensor_height_m,heading_deg,focal_mm,focus_m,"
                   "iso,temperature_c,camera_clock_offset_s,notes" },
  { "fittings", "deployment,unit,from,to" },
  { "visits", "visit,station,at,people,found,camera_clock,true_clock,frames_on_card,left,notes" },
  { "readings", "visit,unit,state,volts,percent,action,notes" },
  { "species", "scientific_name,rank,sensitivity,common_en,common_es,common_pt,common_ms" },
  { "frames", "frame,deployment,file,camera_time,sha256,bytes" },
  { "observations", "observation,deployment,start,end,type,scientific_name,count,sex,life_stage,behaviour,individual,"
                    "identified_by,identified_at,certainty,notes" },
  /* Tables of ours beside the contract's. */
  { "unit_log", "entry,unit,at,what,cause,by,notes" },
  { "stock", "item,what,label,cell_size,chemistry,cell_mah,capacity_gb,pieces,place,notes" },
};

static void
assert_recognised (GStrv names, const char *table)
{
  const TptTable *found = tpt_table_recognise ((const char *const *) names);
  g_autofree char *header = g_strjoinv (",", names);

  g_test_message ("%s", header);
  g_assert_cmpstr (found != NULL ? found->name : NULL, ==, table);
}

static void
shuffle (GStrv names, GRand *chance)
{
  for (guint i = g_strv_length (names); i > 1; i--)
    {
      guint k = (guint) g_rand_int_range (chance, 0, (gint32) i);
      char *last = names[i - 1];

      names[i - 1] = names[k];
      names[k] = last;
    }
}

/* Whatever the order of the columns, and with some that are nobody's. */
static void
test_whole_headers (void)
{
  g_autoptr (GRand) chance = g_rand_new_with_seed (11);

  for (gsize i = 0; i < G_N_ELEMENTS (full); i++)
    {
      g_auto (GStrv) names = g_strsplit (full[i].header, ",", -1);
      g_autofree char *longer = g_strconcat (full[i].header, ",fid,geometry,Remarks", NULL);
      g_auto (GStrv) more = g_strsplit (longer, ",", -1);

      assert_recognised (names, full[i].table);
      for (int round = 0; round < 20; round++)
        {
          shuffle (names, chance);
          shuffle (more, chance);
          assert_recognised (names, full[i].table);
          assert_recognised (more, full[i].table);
        }
    }
}

static void
test_partial_headers (void)
{
  static const struct {
    const char *header;
    const char *table; /* NULL: none */
  } cases[] = {
    { "longitude,latitude,station", "stations" },
    { "station", "stations" },
    { "station,notes", "stations" },
    { "unit,kind", "units" },
    { "unit,serial", NULL }, /* a unit without its kind says nothing */
    { "deployment,station,start", "deployments" },
    { "deployment,unit,from", "fittings" },
    { "visit,station,at", "visits" },
    { "unit,visit", "readings" },
    { "scientific_name", "species" },
    { "scientific_name,common_en", "species" },
    { "frame,deployment,file", "frames" },
    { "observation,deployment,start,type", "observations" },
    { "entry,unit,at,what", "unit_log" },
    { "item,what,pieces", "stock" },
    { "deployment,start", NULL },
    { "name,latitude", NULL },
    { "Station,Name", NULL }, /* names of columns are written small */
    { "", NULL },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_auto (GStrv) names = g_strsplit (cases[i].header, ",", -1);

      assert_recognised (names, cases[i].table);
    }
}

/* What readers of the description rely on. */
static void
test_description (void)
{
  for (guint id = 0; id < TPT_N_TABLES; id++)
    {
      const TptTable *table = tpt_table_get (id);
      g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);

      g_test_message ("%s", table->name);
      g_assert_cmpint (table->id, ==, id);
      g_assert_cmpuint (table->n_key, >, 0);
      g_assert_cmpuint (table->n_key, <=, table->n_columns);
      for (guint i = 0; i < table->n_columns; i++)
        {
          const TptColumn *column = &table->columns[i];
          gboolean number = column->type == TPT_COLUMN_INTEGER || column->type == TPT_COLUMN_REAL;

          g_assert_cmpint (tpt_table_find (table, column->name), ==, (int) i);
          g_assert_true (g_hash_table_add (seen, (gpointer) column->column));
          g_assert_true (i >= table->n_key || column->required);
          g_assert_cmpint (column->choices != NULL, ==, column->type == TPT_COLUMN_CHOICE);
          g_assert_cmpint (column->min < column->max, ==, number);
          g_assert_true (*column->label != '\0');
        }
      g_assert_cmpint (tpt_table_find (table, "no such column"), ==, -1);
    }
}

/* Every word of the tables has a label of its own; others stay as they are. */
static void
test_labels (void)
{
  for (guint id = 0; id < TPT_N_TABLES; id++)
    {
      const TptTable *table = tpt_table_get (id);

      for (guint i = 0; i < table->n_columns; i++)
        for (const char *const *word = table->columns[i].choices; word != NULL && *word != NULL; word++)
          {
            g_autofree char *within = tpt_choice_inline (*word);

            g_assert_cmpstr (tpt_choice_label (*word), !=, *word);
            g_assert_true (g_utf8_validate (within, -1, NULL));
          }
    }
  g_assert_cmpstr (tpt_choice_label ("of their own"), ==, "of their own");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/table/whole-headers", test_whole_headers);
  g_test_add_func ("/table/partial-headers", test_partial_headers);
  g_test_add_func ("/table/description", test_description);
  g_test_add_func ("/table/labels", test_labels);
  return g_test_run ();
}
