/* Species to begin with, for one region. */
#pragma once

#include "tpt-store.h"

G_BEGIN_DECLS

/* @sensitivity (nullable) is a suggestion; @es and @ms may be %NULL. */
typedef struct {
  const char *scientific;
  const char *sensitivity;
  const char *en;
  const char *es;
  const char *ms;
} TptStarterSpecies;

/* (out) @n: how many. */
const TptStarterSpecies *tpt_starter_list_get (guint *n);

/* (transfer full): the row to put on record. */
TptRecord *tpt_starter_list_make_record (const TptStarterSpecies *species);

/* Whether the project's stations stand where the list is for: the middle of
 * those with a position lies in Borneo; without any, the project keeps the time
 * of a place there. */
gboolean tpt_starter_list_fits (TptStore *store, gboolean *fits, GError **error);

G_END_DECLS
