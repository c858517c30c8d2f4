#include "tpt-names-search-private.h"

#include <string.h>

#include "tpt-job-names.h"

/* An apostrophe within a word does not part it: Hose’s is typed hoses. */
static gboolean
is_silent (gunichar letter)
{
  return g_unichar_ismark (letter) || letter == '\'' || letter == 0x2019 || letter == 0x02bc;
}

char *
tpt_names_fold (const char *text)
{
  g_autofree char *sound = g_utf8_make_valid (text, -1);
  g_autofree char *apart = g_utf8_normalize (sound, -1, G_NORMALIZE_ALL);
  g_autofree char *folded = g_utf8_casefold (apart, -1);
  GString *words = g_string_new (NULL);

  for (const char *at = folded; *at != '\0'; at = g_utf8_next_char (at))
    {
      gunichar letter = g_utf8_get_char (at);

      if (is_silent (letter))
        continue;
      if (g_unichar_isalnum (letter))
        g_string_append_unichar (words, letter);
      else if (words->len > 0 && words->str[words->len - 1] != ' ')
        g_string_append_c (words, ' ');
    }
  if (words->len > 0 && words->str[words->len - 1] == ' ')
    g_string_truncate (words, words->len - 1);
  return g_string_free (words, FALSE);
}

/* Whether @word begins a word of any of the names. */
static gboolean
begins_word (const char *names, const char *word)
{
  gsize length = strlen (word);

  for (const char *at = names; at != NULL; at = strpbrk (at, " \n"))
    {
      at += *at == ' ' || *at == '\n';
      if (strncmp (at, word, length) == 0)
        return TRUE;
    }
  return FALSE;
}

static gboolean
has_all_words (const TptName *name, const char *const *words)
{
  for (guint i = 0; words[i] != NULL; i++)
    if (!begins_word (name->names, words[i]))
      return FALSE;
  return TRUE;
}

GPtrArray *
tpt_names_search (GPtrArray *names, const char *text)
{
  g_autofree char *folded = tpt_names_fold (text);
  g_auto (GStrv) words = *folded != '\0' ? g_strsplit (folded, " ", -1) : g_new0 (char *, 1);
  GPtrArray *found = g_ptr_array_new ();

  for (guint i = 0; i < names->len; i++)
    if (has_all_words (names->pdata[i], (const char *const *) words))
      g_ptr_array_add (found, names->pdata[i]);
  return found;
}
