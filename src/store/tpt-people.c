#include "config.h"

#include "tpt-people.h"

GHashTable *
tpt_store_read_people (TptStore *self, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (tpt_store_get_db (self),
                    "WITH said AS (SELECT trigger_id, frame_id FROM observations WHERE type = 'human'),"
                    " fired AS (SELECT trigger_id FROM said UNION SELECT f.trigger_id FROM said s JOIN frames f ON f.id = s.frame_id)"
                    " SELECT frame FROM frames WHERE trigger_id IN (SELECT trigger_id FROM fired)"
                    " UNION SELECT f.frame FROM said s JOIN frames f ON f.id = s.frame_id",
                    error);
  g_autoptr (GHashTable) people = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  GError *failure = NULL;

  if (stmt == NULL)
    return NULL;
  while (tpt_stmt_next (stmt, &failure))
    g_hash_table_add (people, g_strdup (tpt_stmt_text (stmt, 0)));
  if (failure == NULL)
    return g_steal_pointer (&people);
  g_propagate_error (error, failure);
  return NULL;
}
