/* Pictures of symbols and names, each drawn once and then only placed. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-map-mark.h"

G_BEGIN_DECLS

typedef struct _TptMapSprites TptMapSprites;

/* @widget, not owned, gives the font and the scale of the screen. */
TptMapSprites *tpt_map_sprites_new (GtkWidget *widget);
void tpt_map_sprites_free (TptMapSprites *self);

/* For when the font changed. */
void tpt_map_sprites_forget (TptMapSprites *self);

/**
 * TptMapSprite:
 * @texture: (not owned): kept until the next change of colours, scale or font
 * @width: in pixels of the widget
 * @height: the same
 */
typedef struct {
  GdkTexture *texture;
  double width;
  double height;
} TptMapSprite;

/* The symbol, without its number. */
TptMapSprite tpt_map_sprites_get_symbol (TptMapSprites *self, const TptMapMark *mark);

/* A name with a halo; bold for one that is selected. */
TptMapSprite tpt_map_sprites_get_name (TptMapSprites *self, const char *name, gboolean bold);

/* A number for the inside of a disc. */
TptMapSprite tpt_map_sprites_get_number (TptMapSprites *self, const char *number);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptMapSprites, tpt_map_sprites_free)

G_END_DECLS
