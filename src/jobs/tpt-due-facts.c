#include "config.h"

#include <math.h>

#include "tpt-due-facts-private.h"
#include "tpt-records.h"

/* A new project's prior: 6 triggers a day, anything from 1 to 20 plausible.
 * Common practice on game trails, no source. */
#define WEAK_A 1.2
#define WEAK_B 0.2

/* Deployments shorter than this say too little of a rate. */
#define MIN_DAYS 3.0
#define MIN_DEPLOYMENTS 4

static GHashTable *
new_groups (void)
{
  return g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) g_ptr_array_unref);
}

static void
put_in_group (GHashTable *groups, const char *key, TptRecord *record)
{
  GPtrArray *group = g_hash_table_lookup (groups, key);

  if (group == NULL)
    {
      group = g_ptr_array_new_with_free_func (g_object_unref);
      g_hash_table_insert (groups, g_strdup (key), group);
    }
  g_ptr_array_add (group, g_object_ref (record));
}

static gboolean
read_units (TptDueFacts *self, GError **error)
{
  g_autoptr (GPtrArray) rows = tpt_store_list (self->store, TPT_TABLE_UNITS, NULL, NULL, error);

  if (rows == NULL)
    return FALSE;
  for (guint i = 0; i < rows->len; i++)
    g_hash_table_insert (self->units, g_strdup (tpt_record_get_code (rows->pdata[i])), g_object_ref (rows->pdata[i]));
  return TRUE;
}

static gboolean
read_fittings (TptDueFacts *self, GError **error)
{
  g_autoptr (GPtrArray) rows = tpt_store_list (self->store, TPT_TABLE_FITTINGS, NULL, NULL, error);

  if (rows == NULL)
    return FALSE;
  for (guint i = 0; i < rows->len; i++)
    {
      TptInstant to = tpt_record_get_instant (rows->pdata[i], "to");

      if (tpt_record_get_instant (rows->pdata[i], "from") <= self->on && (to == TPT_NO_INSTANT || to > self->on))
        put_in_group (self->fittings, tpt_record_get_text (rows->pdata[i], "deployment"), rows->pdata[i]);
    }
  return TRUE;
}

static gboolean
read_visits (TptDueFacts *self, GError **error)
{
  g_autoptr (GPtrArray) rows = tpt_store_list (self->store, TPT_TABLE_VISITS, NULL, NULL, error);

  if (rows == NULL)
    return FALSE;
  for (guint i = 0; i < rows->len; i++)
    if (tpt_record_get_instant (rows->pdata[i], "at") <= self->on)
      put_in_group (self->visits, tpt_record_get_text (rows->pdata[i], "station"), rows->pdata[i]);
  return TRUE;
}

/* Gamma prior by matching moments over the project's deployments: the spread
 * of rates less what chance alone would give. */
static void
match_moments (TptDueFacts *self, GArray *signs)
{
  double sum_n = 0, sum_days = 0, spread = 0, mean, chance = 0;
  guint used = 0;

  for (guint i = 0; i < signs->len; i++)
    {
      const TptSigns *row = &g_array_index (signs, TptSigns, i);
      double days = (double) (row->last - row->first) / TPT_DAY;

      if (days < MIN_DAYS)
        continue;
      sum_n += (double) row->triggers;
      sum_days += days;
      used++;
    }
  if (used < MIN_DEPLOYMENTS || sum_n <= 0)
    return;

  mean = sum_n / sum_days;
  for (guint i = 0; i < signs->len; i++)
    {
      const TptSigns *row = &g_array_index (signs, TptSigns, i);
      double days = (double) (row->last - row->first) / TPT_DAY;

      if (days < MIN_DAYS)
        continue;
      spread += pow ((double) row->triggers / days - mean, 2) / used;
      chance += mean / days / used;
    }
  /* Rates never agree better than within a factor of about 1.2. */
  spread = MAX (spread - chance, pow (0.2 * mean, 2));
  self->prior_a = mean * mean / spread;
  self->prior_b = mean / spread;
}

static gboolean
read_prior (TptDueFacts *self, GError **error)
{
  g_autoptr (GArray) signs = tpt_store_read_signs (self->store, self->on, error);

  if (signs == NULL)
    return FALSE;
  self->prior_a = WEAK_A;
  self->prior_b = WEAK_B;
  match_moments (self, signs);
  return TRUE;
}

TptDueFacts *
tpt_due_facts_new (TptStore *store, TptInstant on, TptInstant until, GError **error)
{
  g_autoptr (TptDueFacts) self = g_new0 (TptDueFacts, 1);

  self->store = store;
  self->on = on;
  self->until = until;
  self->threshold = tpt_store_get_setting_real (store, "due_threshold", 0.1);
  self->units = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_object_unref);
  self->fittings = new_groups ();
  self->visits = new_groups ();
  if (!read_units (self, error) || !read_fittings (self, error) || !read_visits (self, error) || !read_prior (self, error))
    return NULL;
  self->readings = tpt_store_read_last_readings (store, on, error);
  return self->readings != NULL ? g_steal_pointer (&self) : NULL;
}

void
tpt_due_facts_free (TptDueFacts *self)
{
  g_clear_pointer (&self->units, g_hash_table_unref);
  g_clear_pointer (&self->fittings, g_hash_table_unref);
  g_clear_pointer (&self->visits, g_hash_table_unref);
  g_clear_pointer (&self->readings, g_array_unref);
  g_free (self);
}
