#include "tpt-job-decide-private.h"

gboolean
tpt_decide_each (TptStore *store, const char *what, GArray *keys, TptEachKeyFunc func, gpointer self, gint64 *n_changed,
                 GCancellable *cancellable, GError **error)
{
  g_autoptr (TptAction) action = tpt_action_begin (store, what, error);

  *n_changed = 0;
  if (action == NULL)
    return FALSE;
  for (guint i = 0; i < keys->len; i++)
    {
      gboolean changed = FALSE;

      if (g_cancellable_set_error_if_cancelled (cancellable, error) ||
          !func (self, store, g_array_index (keys, gint64, i), &changed, error))
        return FALSE;
      *n_changed += changed;
    }
  return tpt_action_commit (action, error);
}

GArray *
tpt_decide_keys (const gint64 *keys, guint n)
{
  GArray *once = g_array_sized_new (FALSE, FALSE, sizeof (gint64), n);
  g_autoptr (GHashTable) seen = g_hash_table_new (g_int64_hash, g_int64_equal);

  for (guint i = 0; i < n; i++)
    if (g_hash_table_add (seen, (gpointer) &keys[i]))
      g_array_append_val (once, keys[i]);
  return once;
}
