#include "config.h"

#include "tpt-seen-species.h"

#include "tpt-store-private.h"

static void
fill_count (TptStmt *stmt, gpointer row)
{
  *(TptSeenSpecies *) row = (TptSeenSpecies){ tpt_stmt_int (stmt, 0), tpt_stmt_int (stmt, 1) };
}

GArray *
tpt_store_count_species (TptStore *self, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db, "SELECT species_id, count(*) FROM observations WHERE species_id IS NOT NULL GROUP BY species_id", error);

  return tpt_store_read_rows (stmt, sizeof (TptSeenSpecies), fill_count, error);
}
