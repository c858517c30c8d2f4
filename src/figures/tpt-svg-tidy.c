#include "tpt-figure-private.h"

#include <string.h>

/* What stands before a name in a document of cairo. */
static const char *const marks[] = { " id=\"", "url(#", "href=\"#" };

/* Where each mark comes next, so that a rare one is not looked for over and
 * over through the rest of a large document. */
typedef struct {
  const char *next[G_N_ELEMENTS (marks)]; /* (unowned); the end when there is none */
} Search;

static const char *
find_mark (Search *search,
           const char *at,
           const char *end,
           const char **mark)
{
  const char *nearest = end;

  for (guint i = 0; i < G_N_ELEMENTS (marks); i++)
    {
      if (search->next[i] < at)
        search->next[i] = memmem (at, end - at, marks[i], strlen (marks[i]));
      if (search->next[i] == NULL)
        search->next[i] = end;
      if (search->next[i] < nearest)
        {
          nearest = search->next[i];
          *mark = marks[i];
        }
    }

  return nearest;
}

/* (transfer none): the name is cut to what precedes its first digit, and
 * numbered in the order of first appearance. */
static const char *
rename_id (GHashTable *names,
           const char *id,
           gsize length)
{
  g_autofree char *old = g_strndup (id, length);
  const char *given = g_hash_table_lookup (names, old);
  char *fresh;

  if (given != NULL)
    return given;

  fresh = g_strdup_printf ("%.*s%u", (int) strcspn (old, "0123456789"), old, g_hash_table_size (names));
  g_hash_table_insert (names, g_steal_pointer (&old), fresh);
  return fresh;
}

static void
append_words (GString *out,
              const char *title,
              const char *description)
{
  g_autofree char *safe_title = g_markup_escape_text (title != NULL ? title : "", -1);
  g_autofree char *safe_description = g_markup_escape_text (description, -1);

  g_string_append_printf (out, "\n<title>%s</title>\n<desc>%s</desc>", safe_title, safe_description);
}

/* Copies up to and including the root's start tag. */
static const char *
copy_root (GString *out,
           const char *svg,
           const char *end,
           const char *title,
           const char *description)
{
  const char *root = memmem (svg, end - svg, "<svg ", 5);
  const char *close = root != NULL ? memchr (root, '>', end - root) : NULL;

  if (close == NULL)
    return svg;

  g_string_append_len (out, svg, root + 5 - svg);
  g_string_append (out, "role=\"img\" ");
  g_string_append_len (out, root + 5, close + 1 - root - 5);
  append_words (out, title, description);
  return close + 1;
}

char *
tpt_svg_tidy (const char *svg,
              gsize length,
              const char *title,
              const char *description)
{
  g_autoptr (GHashTable) names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  GString *out = g_string_sized_new (length + 1024);
  const char *end = svg + length;
  const char *at = copy_root (out, svg, end, title, description);
  Search search = { { NULL } };

  while (at < end)
    {
      const char *mark = NULL;
      const char *found = find_mark (&search, at, end, &mark);
      gsize name_length;

      g_string_append_len (out, at, found - at);
      if (mark == NULL)
        break;
      g_string_append (out, mark);
      at = found + strlen (mark);
      name_length = 0;
      while (at + name_length < end && strchr ("\")", at[name_length]) == NULL)
        name_length++;
      g_string_append (out, rename_id (names, at, name_length));
      at += name_length;
    }

  return g_string_free (out, FALSE);
}
