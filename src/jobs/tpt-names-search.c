#include "tpt-job-names.h"

#include "tpt-fold.h"

GPtrArray *
tpt_names_search (GPtrArray *names, const char *text)
{
  g_autofree char *folded = tpt_fold_text (text);
  GPtrArray *found = g_ptr_array_new ();

  for (guint i = 0; i < names->len; i++)
    if (tpt_fold_fits (((const TptName *) names->pdata[i])->names, folded))
      g_ptr_array_add (found, names->pdata[i]);
  return found;
}
