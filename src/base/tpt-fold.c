#include "tpt-fold.h"

#include <string.h>

/* An apostrophe within a word does not part it: Hose’s is typed hoses. */
static gboolean
is_silent (gunichar letter)
{
  return g_unichar_ismark (letter) || letter == '\'' || letter == 0x2019 || letter == 0x02bc;
}

char *
tpt_fold_text (const char *text)
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

/* Whether @word, of @length bytes, begins a word of @text. */
static gboolean
begins_word (const char *text, const char *word, gsize length)
{
  for (const char *at = text; at != NULL; at = strpbrk (at, " \n"))
    {
      at += *at == ' ' || *at == '\n';
      if (strncmp (at, word, length) == 0)
        return TRUE;
    }
  return FALSE;
}

gboolean
tpt_fold_fits (const char *text, const char *sought)
{
  for (const char *word = sought; *word != '\0';)
    {
      gsize length = strcspn (word, " ");

      if (!begins_word (text, word, length))
        return FALSE;
      word += length + (word[length] == ' ');
    }
  return TRUE;
}
