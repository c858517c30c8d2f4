#include "sci-detection.h"

#include <glib.h>
#include <string.h>

#define SECOND G_GINT64_CONSTANT (1000)
#define MINUTE (60 * SECOND)
#define AT(h, m, s) ((h) * 60 * MINUTE + (m) * MINUTE + (s) * SECOND)

typedef struct {
  SciGapFrom from;
  bool strict;
} Convention;

static const Convention conventions[] = {
  { SCI_GAP_FROM_LAST, false },
  { SCI_GAP_FROM_FIRST, false },
  { SCI_GAP_FROM_LAST, true },
  { SCI_GAP_FROM_FIRST, true },
};

/* Counted by hand: seven frames of a deer, some exactly half an hour apart. */
static void
test_by_hand (void)
{
  static const gint64 frames[] = {
    AT (6, 0, 0), AT (6, 20, 0), AT (6, 40, 0), AT (7, 0, 0), AT (7, 30, 0), AT (7, 59, 59), AT (8, 29, 59),
  };
  static const gsize expected[][G_N_ELEMENTS (frames)] = {
    { 0, 0, 0, 0, 1, 1, 2 },
    { 0, 0, 1, 1, 2, 2, 3 },
    { 0, 0, 0, 0, 0, 0, 0 },
    { 0, 0, 1, 1, 2, 2, 3 },
  };
  static const gsize counts[] = { 3, 4, 1, 4 };

  for (gsize i = 0; i < G_N_ELEMENTS (conventions); i++)
    {
      gsize detection[G_N_ELEMENTS (frames)];
      gsize count = sci_detections (frames, NULL, G_N_ELEMENTS (frames), 30 * MINUTE,
                                    conventions[i].from, conventions[i].strict, detection);

      g_assert_cmpuint (count, ==, counts[i]);
      g_assert_cmpmem (detection, sizeof detection, expected[i], sizeof expected[i]);
    }
}

/* Records with a length; counted by hand, 30 minutes. */
static void
test_lengths (void)
{
  static const struct {
    const char *what;
    gint64 start[3], end[3];
    gsize n, from_last, from_first;
  } cases[] = {
    { "gap is from the end of the record before", { 0, AT (0, 40, 0) }, { AT (0, 20, 0), AT (0, 40, 0) }, 2, 1, 2 },
    { "long record covers a short one", { 0, AT (0, 5, 0), AT (1, 0, 0) }, { AT (0, 50, 0), AT (0, 6, 0), AT (1, 0, 0) }, 3, 1, 2 },
    { "exactly the gap after the end", { 0, AT (0, 50, 0) }, { AT (0, 20, 0), AT (0, 50, 0) }, 2, 2, 2 },
    { "end before start counts as start", { 0, AT (0, 30, 0) }, { -AT (1, 0, 0), AT (0, 30, 0) }, 2, 2, 2 },
    { "same instant", { 5, 5, 5 }, { 5, 5, 5 }, 3, 1, 1 },
    { "before 1970", { -AT (2, 0, 0), -AT (1, 31, 0) }, { -AT (2, 0, 0), -AT (1, 31, 0) }, 2, 1, 1 },
    { "nothing", { 0 }, { 0 }, 0, 0, 0 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_test_message ("%s", cases[i].what);
      g_assert_cmpuint (sci_detections (cases[i].start, cases[i].end, cases[i].n, 30 * MINUTE, SCI_GAP_FROM_LAST, false, NULL),
                        ==, cases[i].from_last);
      g_assert_cmpuint (sci_detections (cases[i].start, cases[i].end, cases[i].n, 30 * MINUTE, SCI_GAP_FROM_FIRST, false, NULL),
                        ==, cases[i].from_first);
    }
}

/* Without an interval every record counts, overlapping or not. */
static void
test_no_interval (void)
{
  static const gint64 start[] = { 0, 0, 10 }, end[] = { 100, 100, 100 };

  for (gsize i = 0; i < G_N_ELEMENTS (conventions); i++)
    {
      gsize detection[3];

      g_assert_cmpuint (sci_detections (start, end, 3, 0, conventions[i].from, conventions[i].strict, detection), ==, 3);
      g_assert_cmpuint (detection[2], ==, 2);
    }
}

/* Instants of one group of a file of frames, in the order of the file. */
static GHashTable *
read_groups (const char *name)
{
  g_autofree char *path = g_build_filename (g_getenv ("TEST_DATA"), "science", name, NULL);
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  g_auto (GStrv) lines = NULL;
  GHashTable *groups = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) g_array_unref);

  g_file_get_contents (path, &text, NULL, &error);
  g_assert_no_error (error);
  lines = g_strsplit (g_strdelimit (text, "\r", '\n'), "\n", -1);
  for (gsize i = 1; lines[i] != NULL; i++)
    {
      char *group = strchr (lines[i], ',');
      g_autoptr (GDateTime) time = NULL;
      GArray *instants;
      gint64 instant;

      if (group == NULL)
        continue;
      *group++ = '\0';
      time = g_date_time_new_from_iso8601 (lines[i], g_time_zone_new_utc ());
      instant = g_date_time_to_unix (time) * SECOND;
      instants = g_hash_table_lookup (groups, group);
      if (instants == NULL)
        {
          instants = g_array_new (FALSE, FALSE, sizeof (gint64));
          g_hash_table_insert (groups, g_strdup (group), instants);
        }
      g_array_append_val (instants, instant);
    }
  return groups;
}

static gsize
count_in_groups (GHashTable *groups, const Convention *convention)
{
  GHashTableIter iter;
  gpointer value;
  gsize count = 0;

  g_hash_table_iter_init (&iter, groups);
  while (g_hash_table_iter_next (&iter, NULL, &value))
    {
      GArray *instants = value;

      count += sci_detections ((gint64 *) (gpointer) instants->data, NULL, instants->len, 30 * MINUTE,
                               convention->from, convention->strict, NULL);
    }
  return count;
}

/* Counted by one routine in Python and another in R; see data/science/README.md. */
static void
test_files (void)
{
  static const struct {
    const char *name;
    guint groups;
    gsize counts[G_N_ELEMENTS (conventions)];
  } cases[] = {
    { "frames_2.csv", 9, { 44, 47, 40, 47 } },
    { "frames_3.csv", 2, { 25, 29, 20, 26 } },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GHashTable) groups = read_groups (cases[i].name);

      g_assert_cmpuint (g_hash_table_size (groups), ==, cases[i].groups);
      for (gsize j = 0; j < G_N_ELEMENTS (conventions); j++)
        g_assert_cmpuint (count_in_groups (groups, &conventions[j]), ==, cases[i].counts[j]);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/science/detection/by-hand", test_by_hand);
  g_test_add_func ("/science/detection/lengths", test_lengths);
  g_test_add_func ("/science/detection/no-interval", test_no_interval);
  g_test_add_func ("/science/detection/files", test_files);
  return g_test_run ();
}
