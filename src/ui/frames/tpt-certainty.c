#include "config.h"

#include "tpt-certainty.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define NEAR 1e-9 /* what writing and reading may do to a number */

static const struct {
  const char *code;
  const char *word;
  double number;
} steps[] = {
  { "sure", N_("sure"), TPT_CERTAINTY_SURE },
  { "probable", N_("probable"), TPT_CERTAINTY_PROBABLE },
  { "maybe", N_("maybe"), TPT_CERTAINTY_MAYBE },
};

static int
find_step (double certainty)
{
  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    if (fabs (steps[i].number - certainty) < NEAR)
      return (int) i;
  return -1;
}

const char *
tpt_certainty_get_code (double certainty)
{
  int step = find_step (certainty);

  return step >= 0 ? steps[step].code : NULL;
}

const char *
tpt_certainty_get_word (double certainty)
{
  int step = find_step (certainty);

  return step >= 0 ? _(steps[step].word) : NULL;
}

double
tpt_certainty_from_code (const char *code)
{
  for (guint i = 0; code != NULL && i < G_N_ELEMENTS (steps); i++)
    if (g_str_equal (steps[i].code, code))
      return steps[i].number;
  return NAN;
}
