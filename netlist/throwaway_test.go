package netlist
import ("testing";"path/filepath";"os";"fmt")
func TestThrow(t *testing.T){
 files,_:=filepath.Glob("/tmp/rs/*.toml")
 ex,_:=filepath.Glob("examples/*.toml")
 n:=0
 for _,f:=range append(files,ex...){
  s,err:=LoadFile(f,nil)
  if err!=nil{t.Error(err);continue}
  n++
  if filepath.Dir(f)=="examples"{ for _,x:=range s.Notices{fmt.Println(x.Pos,x.Text)}}
 }
 fmt.Println(n)
 _,p:=readCatalogue(); fmt.Println(p.Error(), len(Catalogue()))
 _=os.Args
}
