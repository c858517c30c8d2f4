/* Names that were probably meant by what somebody typed. */
#pragma once

#include "tpt-job-names.h"

G_BEGIN_DECLS

/**
 * tpt_near_name_find:
 * @names: (nullable) (element-type TptName):
 * @text: what was typed
 *
 * Returns: (transfer none) (nullable): the name one of whose names, scientific or
 *   common in any language, is the nearest to @text within two letters that are
 *   missing, too many or others; of a short text, within a third of it
 */
const TptName *tpt_near_name_find (GPtrArray *names, const char *text);

/* Whether @text is written as the scientific name of a species: two words of
 * Latin letters, the first with a capital, the second without. */
gboolean tpt_near_name_is_scientific (const char *text);

G_END_DECLS
