#include "tpt-unit-lives-private.h"

#include "tpt-records.h"

/* When the first of something happened to a unit, and why. */
typedef struct {
  TptInstant at;
  const char *cause; /* interned */
} First;

typedef struct {
  TptInstant now;
  TptZone *zone;
  GHashTable *fitted; /* (owned): unit to First */
  GHashTable *failed; /* (owned): likewise */
} Facts;

static void
clear_facts (Facts *facts)
{
  g_clear_pointer (&facts->fitted, g_hash_table_unref);
  g_clear_pointer (&facts->failed, g_hash_table_unref);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Facts, clear_facts)

static void
keep_first (GHashTable *table, const char *unit, TptInstant at, const char *cause)
{
  First *first = g_hash_table_lookup (table, unit);

  if (first != NULL && first->at <= at)
    return;
  first = g_new (First, 1);
  *first = (First){ at, g_intern_string (cause) };
  g_hash_table_replace (table, g_strdup (unit), first);
}

static gboolean
read_fittings (TptStore *store, Facts *facts, GError **error)
{
  g_autoptr (GPtrArray) fittings = tpt_store_list (store, TPT_TABLE_FITTINGS, NULL, NULL, error);

  for (guint i = 0; fittings != NULL && i < fittings->len; i++)
    keep_first (facts->fitted, tpt_record_get_text (fittings->pdata[i], "unit"),
                tpt_record_get_instant (fittings->pdata[i], "from"), NULL);
  return fittings != NULL;
}

/* A loss ends a life as a failure does. */
static gboolean
read_failures (TptStore *store, Facts *facts, GError **error)
{
  g_autoptr (GPtrArray) entries = tpt_store_list (store, TPT_TABLE_UNIT_LOG, NULL, NULL, error);

  for (guint i = 0; entries != NULL && i < entries->len; i++)
    {
      TptRecord *entry = entries->pdata[i];
      const char *what = tpt_record_get_text (entry, "what"), *cause = tpt_record_get_text (entry, "cause");
      TptInstant at = tpt_record_get_instant (entry, "at");

      if ((g_strcmp0 (what, "failure") == 0 || g_strcmp0 (what, "loss") == 0) && at <= facts->now)
        keep_first (facts->failed, tpt_record_get_text (entry, "unit"), at, cause != NULL ? cause : "unknown");
    }
  return entries != NULL;
}

/* The start of the day @later days after the one in @column. */
static TptInstant
find_day (TptRecord *unit, const char *column, TptZone *zone, int later)
{
  const char *date = tpt_record_get_text (unit, column);
  TptReading reading;

  if (date == NULL || !tpt_reading_parse (date, &reading, NULL))
    return TPT_NO_INSTANT;
  return tpt_zone_day_from_number (zone, reading.clock_ms / TPT_DAY + later);
}

static TptInstant
find_start (const Facts *facts, TptRecord *unit)
{
  TptInstant acquired = find_day (unit, "acquired", facts->zone, 0);
  const First *fitted = g_hash_table_lookup (facts->fitted, tpt_record_get_code (unit));

  return acquired != TPT_NO_INSTANT || fitted == NULL ? acquired : fitted->at;
}

/* What the log says of the day of retirement is more exact than that day. What
 * befell a unit after it had been retired is no failure at work. */
static TptInstant
find_end (const Facts *facts, TptRecord *unit, const char **cause)
{
  const First *failed = g_hash_table_lookup (facts->failed, tpt_record_get_code (unit));
  TptInstant retired = find_day (unit, "retired", facts->zone, 0);
  TptInstant day_after = find_day (unit, "retired", facts->zone, 1);

  *cause = NULL;
  if (failed != NULL && (retired == TPT_NO_INSTANT || failed->at < day_after))
    {
      *cause = failed->cause;
      return failed->at;
    }
  if (retired == TPT_NO_INSTANT || retired > facts->now)
    return facts->now;
  *cause = tpt_record_get_text (unit, "retire_cause");
  return retired;
}

static gboolean
measure (const Facts *facts, TptRecord *unit, TptLife *life, TptLifeWhy *why)
{
  TptInstant start = find_start (facts, unit), end = find_end (facts, unit, &life->cause);

  *why = start == TPT_NO_INSTANT ? TPT_LIFE_NO_START : start > facts->now ? TPT_LIFE_NOT_YET : TPT_LIFE_BACKWARDS;
  if (start == TPT_NO_INSTANT || start > facts->now)
    return FALSE;
  /* fitted at noon and retired that day */
  if (end < start && tpt_zone_local_day (facts->zone, end) == tpt_zone_local_day (facts->zone, start))
    end = start;
  life->unit = unit;
  life->days = (double) (end - start) / TPT_DAY;
  return end >= start;
}

static void
clear_life (gpointer data)
{
  g_object_unref (((TptLife *) data)->unit);
}

GArray *
tpt_lives_read (TptStore *store, TptInstant now, guint *left_out, GError **error)
{
  g_auto (Facts) facts = { now, tpt_store_get_zone (store), g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free),
                           g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free) };
  g_autoptr (GPtrArray) units = tpt_store_list (store, TPT_TABLE_UNITS, NULL, NULL, error);
  g_autoptr (GArray) lives = g_array_new (FALSE, FALSE, sizeof (TptLife));

  g_array_set_clear_func (lives, clear_life);
  if (units == NULL || !read_fittings (store, &facts, error) || !read_failures (store, &facts, error))
    return NULL;
  for (guint i = 0; i < units->len; i++)
    {
      TptLife life;
      TptLifeWhy why;

      if (!measure (&facts, units->pdata[i], &life, &why))
        {
          left_out[why]++;
          continue;
        }
      g_object_ref (life.unit);
      g_array_append_val (lives, life);
    }
  return g_steal_pointer (&lives);
}
