#include <stdlib.h>

#include "sci-blank.h"

#define APART_MS 600000

static bool
is_apart (const int64_t *at, int one, int other)
{
  return llabs (at[one] - at[other]) >= APART_MS;
}

static bool
is_apart_from_all (const int64_t *at, int one, int which, const int *chosen, int n_chosen)
{
  if (!is_apart (at, one, which))
    return false;
  for (int i = 0; i < n_chosen; i++)
    if (!is_apart (at, one, chosen[i]))
      return false;
  return true;
}

/* Outwards from the one in question, the nearer side first; the earlier when
 * both are as near. */
static int
choose (const int64_t *at, const int *kinds, int n, int which, bool spaced, int *chosen)
{
  int before = which - 1, after = which + 1, n_chosen = 0;

  while (n_chosen < SCI_TRIGGERS_MOST && (before >= 0 || after < n))
    {
      bool back = after >= n || (before >= 0 && at[which] - at[before] <= at[after] - at[which]);
      int next = back ? before-- : after++;

      if (kinds[next] == kinds[which] && (!spaced || is_apart_from_all (at, next, which, chosen, n_chosen)))
        chosen[n_chosen++] = next;
    }
  return n_chosen;
}

int
sci_blank_choose (const int64_t *at, const int *kinds, int n, int which, int *chosen)
{
  int n_chosen = choose (at, kinds, n, which, true, chosen);

  return n_chosen >= SCI_OTHERS_LEAST ? n_chosen : choose (at, kinds, n, which, false, chosen);
}
