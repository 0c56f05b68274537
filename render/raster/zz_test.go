package raster_test
import ("testing";"os";"image";"image/png";"math";"twincord/render/display";"twincord/render/lettering")
func save(img *image.RGBA, n string){ f,_:=os.Create("/tmp/raster/"+n+".png"); png.Encode(f,img); f.Close() }
func zoom(img *image.RGBA, r image.Rectangle, k int, n string){ o:=image.NewRGBA(image.Rect(0,0,r.Dx()*k,r.Dy()*k)); for y:=range o.Rect.Dy(){for x:=range o.Rect.Dx(){o.SetRGBA(x,y,img.RGBAAt(r.Min.X+x/k,r.Min.Y+y/k))}}; save(o,n)}
func TestZZ(t *testing.T){
 l:=page(1280,800)
 l.Rect(display.Rect{W:1280,H:800})
 l.Fill(display.Paint{Kind:display.Radial,Dither:true,A:display.Point{X:640,Y:320},B:display.Point{X:900,Y:640},From:display.Colour{R:.235,G:.25,B:.26,A:1},To:display.Colour{R:.17,G:.175,B:.18,A:1}})
 cols:=[]display.Colour{{R:0.337,G:.706,B:.914,A:1},{R:.902,G:.624,A:1},{R:.8,G:.475,B:.655,A:1},{R:.94,G:.89,B:.26,A:1}}
 n:=math.Sqrt(.45*.45+.7*.7+.75*.75)
 mk:=func(s int,x,y,r,soft float64) { hx,hy:=0.12,0.28
  l.AddBall(display.Ball{Centre:display.Point{X:x,Y:y},RadiusX:r,RadiusY:r,Soft:soft,Opacity:1,Colour:cols[s],Surface:display.Surface(s),Hole:display.Point{X:hx,Y:hy},Bore:.16,Axis:[3]float64{hx,hy,math.Sqrt(1-hx*hx-hy*hy)},Light:[3]float64{-.45/n,-.7/n,.75/n}})}
 for s:=range 4 {
  mk(s,150+float64(s)*260,140,110,0)
  mk(s,90+float64(s)*260,320,40,0)
  mk(s,170+float64(s)*260,320,20,0)
  mk(s,215+float64(s)*260,320,12,0)
  mk(s,245+float64(s)*260,320,8,0)
  mk(s,90+float64(s)*260,430,40,6)
  mk(s,180+float64(s)*260,430,20,6)
 }
 for i:=range 5 {
  r:=display.Ribbon{Colour:display.Colour{R:.93,G:.90,B:.82,A:1},Shade:display.Colour{R:.45,G:.40,B:.33,A:1},TwistDepth:.6}
  h:=[]float64{1,2,5,12,24}[i]
  for k:=range 33 { u:=float64(k)/32; r.Points=append(r.Points,display.RibbonPoint{At:display.Point{X:40+u*560,Y:520+float64(i)*58 - u*30},Half:h,Soft:u*h*1.5,Opacity:1,Twist:u*560/(h*6)}) }
  l.AddRibbon(r)
 }
 r:=display.Ribbon{Colour:display.Colour{R:.93,G:.90,B:.82,A:1},Shade:display.Colour{R:.45,G:.40,B:.33,A:1},TwistDepth:.6}
 for k:=range 65 { u:=float64(k)/64; v:=1/(1+12*(1-u)); r.Points=append(r.Points,display.RibbonPoint{At:display.Point{X:700+v*520,Y:500+v*330},Half:44*v,Soft:60*v*v*v,Opacity:.78,Twist:30*u}) }
 l.AddRibbon(r)
 l.Circle(display.Point{X:1000,Y:560},40); l.Stroke(3,solid(cols[1]))
 l.MoveTo(900,700); l.LineTo(1100,560); l.StrokeDashed(2,6,solid(white))
 lettering.Draw(l,lettering.Style{Size:22,Colour:white},700,780,lettering.Start,"One bead. Two strings run to it and cross inside it.")
 img:=paint(l); save(img,"demo")
 zoom(img,image.Rect(40,270,520,480),3,"z1"); zoom(img,image.Rect(30,480,330,780),4,"z2"); zoom(img,image.Rect(520,270,1060,480),2,"z3")
}
