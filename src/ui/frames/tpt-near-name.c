#include "config.h"

#include "tpt-near-name.h"

#include <string.h>

#include "tpt-fold.h"

#define MOST_LETTERS 2
#define LONGEST 80 /* letters; nothing longer is a slip of the fingers */

/* Letters to take out, put in or change, counted row by row of the table of all
 * beginnings of both words. */
static int
count_letters (const gunichar *a, int n, const gunichar *b, int m)
{
  int row[LONGEST + 1];

  for (int j = 0; j <= m; j++)
    row[j] = j;
  for (int i = 1; i <= n; i++)
    {
      int corner = row[0];

      row[0] = i;
      for (int j = 1; j <= m; j++)
        {
          int above = row[j], changed = corner + (a[i - 1] != b[j - 1]);

          row[j] = MIN (changed, MIN (above, row[j - 1]) + 1);
          corner = above;
        }
    }
  return row[m];
}

/* MOST_LETTERS + 1 for anything further away. */
static int
compare (const char *name, const char *text)
{
  glong n, m;
  g_autofree gunichar *a = g_utf8_to_ucs4_fast (name, -1, &n);
  g_autofree gunichar *b = g_utf8_to_ucs4_fast (text, -1, &m);
  int letters;

  if (n > LONGEST || m > LONGEST || ABS (n - m) > MOST_LETTERS)
    return MOST_LETTERS + 1;
  letters = count_letters (a, (int) n, b, (int) m);
  return letters <= m / 3 ? letters : MOST_LETTERS + 1;
}

/* The nearest of all names of one species. */
static int
compare_all (const TptName *name, const char *text)
{
  g_auto (GStrv) names = g_strsplit (name->names, "\n", -1);
  int least = MOST_LETTERS + 1;

  for (guint i = 0; names[i] != NULL; i++)
    least = MIN (least, compare (names[i], text));
  return least;
}

const TptName *
tpt_near_name_find (GPtrArray *names, const char *text)
{
  g_autofree char *folded = tpt_fold_text (text);
  const TptName *nearest = NULL;
  int least = MOST_LETTERS + 1;

  for (guint i = 0; names != NULL && folded[0] != '\0' && i < names->len; i++)
    {
      int letters = compare_all (names->pdata[i], folded);

      if (letters >= least)
        continue;
      least = letters;
      nearest = names->pdata[i];
    }
  return nearest;
}

static gboolean
is_lower (const char *word)
{
  for (; *word != '\0'; word++)
    if (!g_ascii_islower (*word) && *word != '-')
      return FALSE;
  return TRUE;
}

gboolean
tpt_near_name_is_scientific (const char *text)
{
  g_auto (GStrv) words = g_strsplit (text, " ", -1);

  return g_strv_length (words) == 2 && g_ascii_isupper (words[0][0]) && words[0][1] != '\0' && is_lower (words[0] + 1) &&
         words[1][0] != '\0' && is_lower (words[1]);
}
