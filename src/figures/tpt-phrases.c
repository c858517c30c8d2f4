#include "config.h"

#include "tpt-phrases-private.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* A part of a night is spoken of like many. */
static gulong
get_plural (double n)
{
  return n == round (n) && n >= 0 && n < 1e9 ? (gulong) n : 2;
}

char *
tpt_phrase_detections (double n)
{
  g_autofree char *number = tpt_words_number (n);

  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s detection", "%s detections", get_plural (n)), number);
}

char *
tpt_phrase_trap_nights (double n)
{
  double rounded = round (10 * n) / 10;
  g_autofree char *number = tpt_words_number (rounded);

  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s trap night", "%s trap nights", get_plural (rounded)), number);
}

char *
tpt_phrase_stations (guint n)
{
  g_autofree char *number = tpt_words_number (n);

  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s station", "%s stations", n), number);
}

char *
tpt_phrase_frames (double n)
{
  g_autofree char *number = tpt_words_number (n);

  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s frame", "%s frames", get_plural (n)), number);
}

char *
tpt_phrase_visits (guint n)
{
  g_autofree char *number = tpt_words_number (n);

  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s visit", "%s visits", n), number);
}
