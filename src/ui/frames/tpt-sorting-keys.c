/* The keys of the page. */
#include "config.h"

#include "tpt-sorting-private.h"

/* The same letters as while naming. Some keyboards have the sign on a key with Shift. */
static gboolean
letter_cb (TptSortingPage *self, guint keyval, guint keycode, GdkModifierType state)
{
  static const struct {
    guint keyval;
    const char *type;
  } keys[] = {
    { GDK_KEY_b, "blank" }, { GDK_KEY_h, "human" }, { GDK_KEY_v, "vehicle" }, { GDK_KEY_u, "unknown" }, { GDK_KEY_t, NULL }
  };
  guint letter = gdk_keyval_to_lower (keyval);
  gboolean name = keyval == GDK_KEY_slash || keyval == GDK_KEY_KP_Divide;

  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0 || ((state & GDK_SHIFT_MASK) != 0 && !name) ||
      !tpt_frame_grid_has_focus (self->grid))
    return FALSE;
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    if (keys[i].keyval == letter)
      {
        tpt_sorting_decide (self, keys[i].type, NULL);
        return TRUE;
      }
  if (name)
    tpt_sorting_name (self);
  else if (letter == GDK_KEY_g)
    tpt_sorting_mark (self);
  else
    return FALSE;
  return TRUE;
}

static gboolean
holds_focus (GtkWidget *part, GtkWidget *focus)
{
  return focus != NULL && (focus == part || gtk_widget_is_ancestor (focus, part));
}

/* Batches, filters, pictures, buttons; a part with nothing in it to go to is passed over. */
static void
go_round (TptSortingPage *self, gboolean back)
{
  GtkWidget *parts[] = { GTK_WIDGET (self->batches), GTK_WIDGET (self->filter), GTK_WIDGET (self->middle), self->foot };
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;
  guint n = G_N_ELEMENTS (parts), at = back ? 0 : n - 1;

  for (guint i = 0; i < n; i++)
    if (holds_focus (parts[i], focus))
      at = i;
  for (guint i = 1; i < n; i++)
    {
      GtkWidget *part = parts[(at + (back ? n - i : i)) % n];

      if (part == GTK_WIDGET (self->middle) ? gtk_widget_grab_focus (GTK_WIDGET (self->grid))
                                            : gtk_widget_child_focus (part, GTK_DIR_TAB_FORWARD))
        return;
    }
}

static gboolean
round_cb (TptSortingPage *self, guint keyval, guint keycode, GdkModifierType state)
{
  gboolean listed = g_strcmp0 (gtk_stack_get_visible_child_name (self->stack), "list") == 0;

  if (keyval != GDK_KEY_F6 || !listed || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0)
    return FALSE;
  go_round (self, (state & GDK_SHIFT_MASK) != 0);
  return TRUE;
}

/* Also while naming: Alt with an arrow leads back to where the list was asked for. */
static gboolean
back_cb (TptSortingPage *self, guint keyval, guint keycode, GdkModifierType state)
{
  if (keyval != GDK_KEY_Left || (state & gtk_accelerator_get_default_mod_mask ()) != GDK_ALT_MASK ||
      !gtk_widget_get_visible (self->findings))
    return FALSE;
  return gtk_widget_activate_action (GTK_WIDGET (self), "win.page", "s", "findings");
}

static void
add_keys (TptSortingPage *self, GtkWidget *widget, GCallback callback)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  g_signal_connect_swapped (keys, "key-pressed", callback, self);
  gtk_widget_add_controller (widget, keys);
}

void
tpt_sorting_add_keys (TptSortingPage *self)
{
  add_keys (self, GTK_WIDGET (self->grid), G_CALLBACK (letter_cb));
  add_keys (self, GTK_WIDGET (self), G_CALLBACK (round_cb));
  add_keys (self, GTK_WIDGET (self), G_CALLBACK (back_cb));
}
