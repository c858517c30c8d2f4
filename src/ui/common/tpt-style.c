#include "tpt-style.h"

#include <adwaita.h>

#define RESOURCES "/io/github/tapetum/Tapetum/common/"

TptPalette
tpt_style_get_palette (void)
{
  return adw_style_manager_get_dark (adw_style_manager_get_default ()) ? TPT_PALETTE_DARK : TPT_PALETTE_LIGHT;
}

TptFigureStyle
tpt_style_get_figure_style (void)
{
  TptFigureStyle style = TPT_FIGURE_STYLE_INIT;

  style.palette = tpt_style_get_palette ();
  return style;
}

static void
load_colors_cb (AdwStyleManager *manager, GParamSpec *pspec, gpointer provider)
{
  gboolean dark = adw_style_manager_get_dark (manager);

  gtk_css_provider_load_from_resource (provider, dark ? RESOURCES "colors-dark.css" : RESOURCES "colors-light.css");
}

static GtkCssProvider *
add_provider (void)
{
  g_autoptr (GtkCssProvider) provider = gtk_css_provider_new ();

  gtk_style_context_add_provider_for_display (gdk_display_get_default (), GTK_STYLE_PROVIDER (provider),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
  return provider; /* the display keeps it */
}

void
tpt_style_add (const char *resource)
{
  static GHashTable *added; /* (owned): for the life of the process */

  if (added == NULL)
    added = g_hash_table_new (g_str_hash, g_str_equal);
  if (g_hash_table_add (added, (gpointer) g_intern_string (resource)))
    gtk_css_provider_load_from_resource (add_provider (), resource);
}

void
tpt_style_install (void)
{
  static gboolean installed = FALSE;
  AdwStyleManager *manager = adw_style_manager_get_default ();
  GtkCssProvider *colors;

  if (installed)
    return;
  installed = TRUE;

  tpt_style_add (RESOURCES "style.css");
  colors = add_provider ();
  load_colors_cb (manager, NULL, colors);
  g_signal_connect (manager, "notify::dark", G_CALLBACK (load_colors_cb), colors);
}
