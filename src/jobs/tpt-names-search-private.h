/* How names are made alike for searching. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* (transfer full): words without accents, in one case, with single blanks
 * between; whatever is no letter or digit parts words. */
char *tpt_names_fold (const char *text);

G_END_DECLS
