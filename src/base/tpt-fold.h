/* Texts made alike, so that they are found however they are typed. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* (transfer full): words without accents and apostrophes, in one case, with
 * single blanks between; whatever is no letter or digit parts words. Text that
 * is no UTF-8 is taken as far as it is. */
char *tpt_fold_text (const char *text);

/**
 * tpt_fold_fits:
 * @text: folded; several texts are parted by line ends
 * @sought: folded
 *
 * Returns: whether each word of @sought begins a word of @text; always for none
 */
gboolean tpt_fold_fits (const char *text, const char *sought);

G_END_DECLS
