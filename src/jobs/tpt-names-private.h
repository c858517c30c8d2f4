/* What species are called, for jobs. */
#pragma once

#include "tpt-store.h"

G_BEGIN_DECLS

/* Names looked up once per species. */
typedef struct _TptNamer TptNamer;

/* @language: (nullable): as for tpt_job_names_new() */
TptNamer *tpt_namer_new (TptStore *store, const char *language);
void tpt_namer_free (TptNamer *self);

/* (transfer none) (nullable): the common name; %NULL with @error when the file
 * fails, without when there is none in a language of the reader's or English. */
const char *tpt_namer_get (TptNamer *self, gint64 species_id, GError **error);

/* The name to show of @n names by language. @names: (element-type TptCommonName) of one species */
const char *tpt_namer_choose (GArray *names, guint first, guint n, const char *language);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptNamer, tpt_namer_free)

G_END_DECLS
