/* How often each species was named, and what it is called. */
#pragma once

#include "tpt-store.h"

G_BEGIN_DECLS

/**
 * TptNameCount:
 * @species: (owned): scientific name
 * @here: within two hours of the time of day asked for, at the station
 */
typedef struct {
  gint64 species_id;
  char *species;
  gint64 here, station, project;
} TptNameCount;

/* (element-type TptNameCount): every species, in the order of the keys.
 * @station: (nullable): code. @minute: of the local day, -1 any. */
GArray *tpt_store_count_names (TptStore *self, const char *station, int minute, GError **error);

typedef struct {
  gint64 species_id;
  char *language; /* (owned) */
  char *name;     /* (owned) */
} TptCommonName;

/* (element-type TptCommonName): by species, then language; of one species, or of all when @species_id is 0. */
GArray *tpt_store_read_common_names (TptStore *self, gint64 species_id, GError **error);

G_END_DECLS
