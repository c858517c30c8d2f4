/* How often each species is on record. */
#pragma once

#include "tpt-store.h"

G_BEGIN_DECLS

typedef struct {
  gint64 species_id;
  gint64 observations; /* whether their opinion counts or not */
} TptSeenSpecies;

/* (element-type TptSeenSpecies): those with any; %NULL with @error when the
 * file fails. */
GArray *tpt_store_count_species (TptStore *self, GError **error);

G_END_DECLS
